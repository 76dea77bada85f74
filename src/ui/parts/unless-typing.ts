import { noChange } from 'lit';
import { Directive, directive, type ElementPart, type PropertyPart } from 'lit/directive.js';
import { setCommittedValue } from 'lit/directive-helpers.js';

/** Fields in which something was typed that was not taken yet. */
const typedInto = new WeakSet<Element>();

export function typing(event: Event): void {
  if (event.target instanceof Element) typedInto.add(event.target);
}

export function typed(event: Event): void {
  if (event.target instanceof Element) typedInto.delete(event.target);
}

/** The trial's own text, whatever the field holds; but a part that is drawn anew takes no text away under the hand. */
class UnlessTyping extends Directive {
  override render(value: string): unknown {
    return value;
  }

  override update(place: PropertyPart | ElementPart, [value]: [string]): unknown {
    const field = place.element;
    if (!(field instanceof HTMLInputElement)) return value;
    const isTyping = typedInto.has(field) && document.activeElement === field;
    if (isTyping || field.value === value) return noChange;
    setCommittedValue(place);
    return value;
  }
}

export const unlessTyping = directive(UnlessTyping);
