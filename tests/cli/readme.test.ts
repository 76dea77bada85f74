import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { stripverdict } from './run-stripverdict.ts';

/** What README.md shows must be what the program prints: each shown line, in order; `...` stands for lines left out. */
const README = readFileSync('README.md', 'utf8');
const SHOWN = /```sh\nnpm run --silent stripverdict -- (.+)\n```\n\n```text\n([\s\S]+?)\n```/g;

describe('README.md', () => {
  const examples = [...README.matchAll(SHOWN)].map(([, words, output]) => ({
    words: words!.split(' '),
    lines: output!.split('\n').filter((line) => line.trim() !== '...'),
  }));

  it('shows at least one command with its output', () => {
    expect(examples.length).toBeGreaterThan(0);
  });

  it.each(examples)('prints what it shows: $words', ({ words, lines }) => {
    const printed = stripverdict(words).out.split('\n');
    let from = 0;
    for (const line of lines) {
      const at = printed.indexOf(line, from);
      expect(at, `README.md shows a line that is not printed (any more): ${line}`).toBeGreaterThanOrEqual(0);
      from = at + 1;
    }
  });

  it('links to nothing that is not there', () => {
    for (const document of ['README.md', 'DEVELOPERS.md', 'CHANGELOG.md']) {
      const links = [...readFileSync(document, 'utf8').matchAll(/\]\((?!https?:)([^)#]+)/g)].map(
        ([, link]) => link!,
      );
      const broken = links.filter((link) => !existsSync(join(dirname(document), link)));
      expect(broken, document).toEqual([]);
    }
  });
});
