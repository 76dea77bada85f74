import type { BlockToDraw } from './draw-up-layout.ts';
import type { Strip, TrialDocument } from './trial-document.ts';

type Ordered = Pick<TrialDocument, 'strips' | 'treatments' | 'blocks' | 'design'>;

/**
 * The order of treatments as text: one line a block, names with commas between, from the edge line on. Of the strips
 * that there are, by their place where it is known, else in the document's order; without strips, nothing.
 */
export function orderText(trial: Ordered): string {
  const names = new Map(trial.treatments.map(({ id, name }) => [id, name]));
  return inBlocks(trial)
    .map((strips) => strips.map(({ treatment }) => names.get(treatment) ?? treatment).join(', '))
    .join('\n');
}

/**
 * Blocks to draw from such a text; commas, semicolons or tabs between the names. Strips and blocks keep their names where
 * the text is that of the document; else strips are numbered from 1 and blocks are those of the document in turn, new
 * ones beyond. A completely randomized trial has no blocks, whatever the lines.
 */
export function blocksOfOrder(text: string, trial: Ordered): readonly BlockToDraw[] {
  const lines = text
    .split(/\r?\n/)
    .map((line) =>
      line
        .split(/[,;\t]/)
        .map((name) => name.trim())
        .filter((name) => name !== ''),
    )
    .filter((names) => names.length > 0);
  const kept = text.trim() === orderText(trial).trim() ? inBlocks(trial) : null;
  let before = 0;
  return lines.map((names, line) => {
    const own = kept?.[line];
    const strips = names.map((treatment, k) => ({ id: own?.[k]?.id ?? String(before + k + 1), treatment }));
    before += names.length;
    const isBlocked = trial.design === 'randomizedCompleteBlocks';
    return { block: isBlocked ? blockOf(own?.[0]?.block ?? null, line, trial) : null, strips };
  });
}

function blockOf(id: string | null, line: number, { blocks }: Ordered) {
  const known = id === null ? blocks[line] : blocks.find((block) => block.id === id);
  return known ?? { id: `${line + 1}`, name: `Block ${line + 1}` };
}

/** Strips by block, in the order in which the blocks begin. */
function inBlocks({ strips }: Ordered): readonly (readonly Strip[])[] {
  const ordered = strips.every(({ place }) => place !== null)
    ? strips.toSorted((a, b) => (a.place ?? 0) - (b.place ?? 0))
    : strips;
  const ids = [...new Set(ordered.map(({ block }) => block))];
  return ids.map((id) => ordered.filter(({ block }) => block === id));
}
