import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ElementHandle } from '@playwright/test';
import { dropFiles } from '../browser/own-files.ts';
import { goTo, oneOf, pressHistory, type Walker } from './walker.ts';

type Found = ElementHandle<Element>;

/** Does one thing that a user may do and says what; null where there was nothing to do it to. */
type Action = (walker: Walker) => Promise<string | null>;

const STAGES = ['trial', 'layout', 'harvest', 'answer', 'handout'] as const;
/** Sound ones, odd ones and nonsense. */
const TYPED = [
  '0',
  '1',
  '2',
  '5',
  '12',
  '0.05',
  '0,1',
  '3.5',
  '20',
  '100',
  '-1',
  '1e9',
  '',
  'abc',
  '２',
  'Ünïcode & <b>',
];
/** Buttons that open windows of the browser or the system, leave the trial, or hand files over. */
const LEFT_ALONE = /print|save|choose|\((csv|xlsx|geojson|svg)\)|as json|close|forget|files$|from a file/i;
const PATIENCE_MS = 3000;

const WEIGHED: readonly (readonly [action: Action, weight: number])[] = [
  [changeStage, 3],
  [typeSomething, 6],
  [chooseSomething, 3],
  [tickSomething, 3],
  [pressSomething, 4],
  [openSomething, 2],
  [undoOrRedo, 2],
  [onTheField, 2],
  [leaveOutAStretch, 1],
  [dropTheHarvestAgain, 1],
];
const ACTIONS = WEIGHED.flatMap(([action, weight]) => Array.from({ length: weight }, () => action));

export async function actOnce(walker: Walker): Promise<void> {
  const done = await oneOf(walker.random, ACTIONS)(walker);
  if (done !== null) walker.walk.push(done);
}

async function changeStage({ page, random }: Walker): Promise<string> {
  const stage = oneOf(random, STAGES);
  await goTo(page, stage);
  return `go to ${stage}`;
}

function typeSomething(walker: Walker): Promise<string | null> {
  return withAny(walker, 'input[type=text], textarea', (field) => typeInto(field, walker));
}

async function typeInto(field: Found, walker: Walker): Promise<string> {
  const text = oneOf(walker.random, TYPED);
  const name = await nameOf(field);
  return tried(`type “${text}” into ${name}`, async () => {
    await field.fill(text, { timeout: PATIENCE_MS });
    await field.press('Tab', { timeout: PATIENCE_MS });
  });
}

function chooseSomething(walker: Walker): Promise<string | null> {
  return withAny(walker, 'select', (list) => chooseFrom(list, walker));
}

async function chooseFrom(list: Found, walker: Walker): Promise<string | null> {
  const values = await list.evaluate((select) =>
    [...(select as HTMLSelectElement).options].map(({ value }) => value),
  );
  if (values.length === 0) return null;
  const value = oneOf(walker.random, values);
  const name = await nameOf(list);
  return tried(`choose “${value}” for ${name}`, () => list.selectOption(value, { timeout: PATIENCE_MS }));
}

function tickSomething(walker: Walker): Promise<string | null> {
  return withAny(walker, 'input[type=checkbox], input[type=radio]', async (box) =>
    tried(`tick ${await nameOf(box)}`, () => box.click({ timeout: PATIENCE_MS })),
  );
}

function pressSomething(walker: Walker): Promise<string | null> {
  return withAny(walker, 'button', async (button) => {
    const name = await nameOf(button);
    if (LEFT_ALONE.test(name)) return null;
    return tried(`press ${name}`, () => button.click({ timeout: PATIENCE_MS }));
  });
}

function openSomething(walker: Walker): Promise<string | null> {
  return withAny(walker, 'summary', async (summary) =>
    tried(`open or shut ${await nameOf(summary)}`, () => summary.click({ timeout: PATIENCE_MS })),
  );
}

async function undoOrRedo({ page, random }: Walker): Promise<string> {
  const name = random.chance(0.6) ? 'Undo' : 'Redo';
  const times = await pressHistory(page, name, 1 + Math.floor(random.uniform() * 3));
  return `${name}, ${times} times`;
}

/** Points, drags, steps and changes the scale; where a layout is held the drag moves it. */
function onTheField(walker: Walker): Promise<string | null> {
  return withAny(walker, '.field-frame:not(.is-still)', (frame) => moveOver(frame, walker));
}

async function moveOver(frame: Found, { page, random }: Walker): Promise<string> {
  return tried('drag, point and step on the field', async () => {
    await frame.scrollIntoViewIfNeeded({ timeout: PATIENCE_MS });
    const box = await frame.boundingBox();
    if (box === null) return;
    const place = () =>
      [box.x + random.uniform() * box.width, box.y + random.uniform() * box.height] as const;
    await page.mouse.move(...place());
    await page.mouse.down();
    await page.mouse.move(...place(), { steps: 5 });
    await page.mouse.up();
    await page.mouse.click(...place());
    await page.mouse.move(...place(), { steps: 5 });
    for (const key of ['ArrowRight', 'Shift+ArrowLeft', oneOf(random, ['+', '-', '0'])])
      await frame.press(key);
  });
}

async function leaveOutAStretch({ page, random }: Walker): Promise<string | null> {
  await goTo(page, 'harvest');
  const section = page.getByRole('region', { name: 'Areas left out' });
  if ((await section.count()) === 0) return null;
  const from = Math.floor(random.between(0, 200));
  return tried(`leave out a stretch from ${from}`, async () => {
    const field = section.getByLabel('From', { exact: true });
    if (!(await field.isVisible()))
      await section.getByText('Leave out an area').click({ timeout: PATIENCE_MS });
    await field.fill(String(from), { timeout: PATIENCE_MS });
    await section.getByLabel('To', { exact: true }).fill(String(from + 30), { timeout: PATIENCE_MS });
    await section.getByRole('button', { name: 'Leave out this stretch' }).click({ timeout: PATIENCE_MS });
  });
}

/** The same file once more, and one of another day beside it. */
async function dropTheHarvestAgain({ page, random, folder }: Walker): Promise<string | null> {
  await goTo(page, 'harvest');
  const name = oneOf(random, ['harvest.csv', 'harvest-2.csv']);
  // Dropped, since the driver holds on to a page whose file input it was given to fill.
  await dropFiles(page, [{ name, text: readFileSync(join(folder, name), 'utf8') }]);
  return `drop ${name}`;
}

/** Does it to one of the visible ones on the page, by chance; the page is not kept from forgetting it afterwards. */
async function withAny(
  { page, random }: Walker,
  selector: string,
  act: (element: Found) => Promise<string | null>,
): Promise<string | null> {
  const share = random.uniform();
  const handle = await page.evaluateHandle(
    ({ wanted, at }) => {
      const all = [...document.querySelectorAll(`main :is(${wanted})`)].filter(
        (element) => element.checkVisibility() && !(element as HTMLInputElement).disabled,
      );
      return all[Math.floor(at * all.length)] ?? null;
    },
    { wanted: selector, at: share },
  );
  const element = handle.asElement();
  const done = element === null ? null : await act(element);
  await handle.dispose();
  return done;
}

function nameOf(handle: Found): Promise<string> {
  return handle.evaluate((element) => {
    const labelled = element as HTMLInputElement;
    const text =
      element.getAttribute('aria-label') ?? labelled.labels?.[0]?.textContent ?? element.textContent;
    return (text ?? '').replace(/\s+/g, ' ').trim().slice(0, 60);
  });
}

/** The page may have taken the thing away meanwhile, as it may under a user's hand. */
async function tried(what: string, act: () => Promise<unknown>): Promise<string> {
  try {
    await act();
    return what;
  } catch (error) {
    const reason = error instanceof Error ? error.message.split('\n')[0] : String(error);
    return `${what} (not done: ${reason})`;
  }
}
