import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changedAfterSeeing } from '../../src/trial/changed-after-seeing.ts';
import { applyCommand } from '../../src/trial/commands.ts';
import { passListText, readPassList } from '../../src/trial/pass-list.ts';
import { proposePasses } from '../../src/trial/pass-proposal.ts';
import type { PassNumbering, Strip, TrialDocument } from '../../src/trial/trial-document.ts';
import { smallTrial } from './trials.ts';

describe('a list of passes as text', () => {
  it('holds numbers and ranges', () => {
    expect(readPassList('3-4, 7', 12)).toEqual({ ok: true, passes: [3, 4, 7] });
    expect(readPassList(' 7 ; 3 – 4,', 12)).toEqual({ ok: true, passes: [3, 4, 7] });
    expect(readPassList('  ', 12)).toEqual({ ok: true, passes: [] });
  });

  it('names the part that cannot be meant', () => {
    const fault = (text: string) => {
      const read = readPassList(text, 12);
      return read.ok ? null : [read.fault, read.part];
    };
    expect(fault('3, vier')).toEqual(['notAPass', 'vier']);
    expect(fault('0-3')).toEqual(['notAPass', '0-3']);
    expect(fault('2.5')).toEqual(['notAPass', '2.5']);
    expect(fault('3 4')).toEqual(['notAPass', '3 4']);
    expect(fault('7-4')).toEqual(['backwards', '7-4']);
    expect(fault('11-13')).toEqual(['beyond', '11-13']);
    expect(fault('1-999999999')).toEqual(['beyond', '1-999999999']);
    expect(fault('3-5, 4')).toEqual(['twice', '4']);
  });

  // Law: what is written reads back the same.
  it('reads back as it was written', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 60 })), (passes) => {
        expect(readPassList(passListText(passes), 60)).toEqual({
          ok: true,
          passes: [...passes].sort((a, b) => a - b),
        });
      }),
    );
  });
});

function strips(count: number, place: (k: number) => number | null): Strip[] {
  return Array.from({ length: count }, (_, k) => ({
    id: `s${k + 1}`,
    treatment: 'leaf',
    block: null,
    place: place(k),
    polygon: null,
  }));
}

describe('the proposal', () => {
  const passes = [1, 2, 3, 4, 5, 6];

  it('gives each strip as many passes, in the order of the document or of the places', () => {
    const listed = proposePasses(
      strips(3, () => null),
      passes,
    );
    expect(listed).toEqual({ ok: true, each: 2, passesOfStrips: { s1: [1, 2], s2: [3, 4], s3: [5, 6] } });
    const placed = proposePasses(
      strips(3, (k) => 3 - k),
      passes,
    );
    expect(placed).toMatchObject({ passesOfStrips: { s3: [1, 2], s2: [3, 4], s1: [5, 6] } });
    const other = proposePasses(
      strips(3, () => null),
      passes,
      true,
    );
    expect(other).toMatchObject({ passesOfStrips: { s1: [5, 6], s2: [3, 4], s3: [1, 2] } });
  });

  it('is refused with the counts where they do not divide', () => {
    expect(
      proposePasses(
        strips(4, () => null),
        passes,
      ),
    ).toEqual({ ok: false, strips: 4, passes: 6 });
    expect(
      proposePasses(
        strips(8, () => null),
        passes,
      ),
    ).toEqual({ ok: false, strips: 8, passes: 6 });
    expect(proposePasses([], passes)).toEqual({ ok: false, strips: 0, passes: 6 });
  });

  // Law: every pass goes to one strip, and no strip gets more than another.
  it('shares all passes out once', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 1, max: 4 }),
        fc.boolean(),
        (n, each, other) => {
          const all = Array.from({ length: n * each }, (_, k) => k + 1);
          const proposal = proposePasses(
            strips(n, () => null),
            all,
            other,
          );
          if (!proposal.ok) throw new Error('expected a proposal');
          const shares = Object.values(proposal.passesOfStrips);
          expect(shares.flat().sort((a, b) => a - b)).toEqual(all);
          for (const share of shares) expect(share.length).toBe(each);
        },
      ),
    );
  });
});

describe('assigning passes', () => {
  const numbering: PassNumbering = { files: ['yield.csv'], count: 4, from: 'west', acrossM: 27 };
  const assigned = (trial: TrialDocument, passesOfStrips: Record<string, number[]>, acrossM = 27) => {
    const command = {
      name: 'assignPasses',
      passesOfStrips,
      numbering: { ...numbering, acrossM },
    } as const;
    const outcome = applyCommand(trial, command);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    return outcome.value;
  };
  const passesOf = (trial: TrialDocument) => trial.strips.map(({ passes }) => passes ?? null);

  it('keeps those of other strips, unless they spoke of another track', () => {
    const first = assigned(smallTrial(), { s1: [1], s2: [2] });
    expect(passesOf(first).slice(0, 2)).toEqual([[1], [2]]);
    expect(passesOf(assigned(first, { s1: [3] })).slice(0, 2)).toEqual([[3], [2]]);
    const anew = assigned(first, { s1: [3] }, 60);
    expect(passesOf(anew).slice(0, 2)).toEqual([[3], null]);
    expect(anew.passNumbering?.acrossM).toBe(60);
  });

  it('notes the first passes of all strips once harvest is open, and lists what moves after', () => {
    const all = Object.fromEntries(smallTrial().strips.map(({ id }, k) => [id, [k + 1]]));
    const open = applyCommand(smallTrial(), { name: 'stampSettings', at: '2024-09-01T10:00:00.000Z' });
    if (!open.ok) throw new Error(JSON.stringify(open.problems));
    expect(changedAfterSeeing(assigned(open.value, { s1: [4] }))).toEqual([]);
    const first = assigned(open.value, all);
    expect(changedAfterSeeing(first)).toEqual([]);
    const [change, ...others] = changedAfterSeeing(assigned(first, { s1: [7, 8] }));
    expect(others).toEqual([]);
    expect(change).toEqual({ path: 'layout.passes', before: '["s1: 1"]', now: '["s1: 7-8"]' });
  });

  it('takes no number below 1', () => {
    const command = {
      name: 'assignPasses',
      passesOfStrips: { s1: [0] },
      numbering,
    } as const;
    expect(applyCommand(smallTrial(), command).ok).toBe(false);
  });
});
