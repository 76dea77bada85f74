/**
 * A strict little XML reader for tests: elements, attributes, text, the five named entities. Anything not
 * well-formed (XML 1.0: unclosed or crossed tags, repeated attributes, a bare & or <) throws with its place.
 */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: (XmlElement | string)[];
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#39;': "'",
};

export function readXml(text: string): XmlElement {
  const open: XmlElement[] = [];
  let root: XmlElement | null = null;
  let at = 0;
  while (at < text.length) {
    if (text[at] !== '<') {
      const end = text.indexOf('<', at);
      if (end < 0 || open.length === 0) throw new Error(`text outside the root at ${at}`);
      open.at(-1)?.children.push(decoded(text.slice(at, end)));
      at = end;
      continue;
    }
    const end = tagEnd(text, at);
    const inside = text.slice(at + 1, end);
    at = end + 1;
    if (inside.startsWith('/')) {
      const closed = open.pop();
      if (closed?.name !== inside.slice(1)) throw new Error(`</${inside.slice(1)}> closes <${closed?.name}>`);
      continue;
    }
    const made = elementOf(inside.endsWith('/') ? inside.slice(0, -1) : inside);
    const parent = open.at(-1);
    if (parent !== undefined) parent.children.push(made);
    else if (root === null) root = made;
    else throw new Error(`a second root <${made.name}>`);
    if (!inside.endsWith('/')) open.push(made);
  }
  if (root === null || open.length > 0)
    throw new Error(`unclosed: ${open.map(({ name }) => name).join(', ')}`);
  return root;
}

/** The > that ends a tag, past any in quotes. */
function tagEnd(text: string, from: number): number {
  let quoted = false;
  for (let at = from + 1; at < text.length; at += 1) {
    if (text[at] === '"') quoted = !quoted;
    if (text[at] === '<') throw new Error(`bare < in a tag at ${at}`);
    if (text[at] === '>' && !quoted) return at;
  }
  throw new Error(`tag without end at ${from}`);
}

function elementOf(inside: string): XmlElement {
  const [name = ''] = inside.split(' ', 1);
  if (!/^[A-Za-z][\w:-]*$/.test(name)) throw new Error(`no name: ${name}`);
  const attributes: Record<string, string> = {};
  let rest = inside.slice(name.length);
  while (rest !== '') {
    const found = /^ ([A-Za-z][\w:-]*)="([^"]*)"/.exec(rest);
    if (found === null) throw new Error(`not an attribute: ${rest}`);
    const [whole, key = '', value = ''] = found;
    if (key in attributes) throw new Error(`${key} twice in <${name}>`);
    attributes[key] = decoded(value);
    rest = rest.slice(whole.length);
  }
  return { name, attributes, children: [] };
}

function decoded(text: string): string {
  return text.replace(/&[^;]*;?/g, (entity) => {
    const character = ENTITIES[entity];
    if (character === undefined) throw new Error(`unknown entity ${entity}`);
    return character;
  });
}

export function allElements(root: XmlElement): readonly XmlElement[] {
  return [root, ...root.children.flatMap((child) => (typeof child === 'string' ? [] : allElements(child)))];
}

export function elementsOfClass(root: XmlElement, name: string): readonly XmlElement[] {
  return allElements(root).filter(({ attributes }) => attributes.class?.split(' ').includes(name));
}

export function textOf(element: XmlElement): string {
  return element.children.map((child) => (typeof child === 'string' ? child : textOf(child))).join('');
}
