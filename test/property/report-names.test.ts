/** Names shortened for one picture. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fittedApart } from '../../src-main/report/document.ts';

// Few signs, so that names share beginnings, middles and ends; among them those that shortening itself writes.
const name = fc
  .array(fc.constantFrom('a', 'b', '…', '1', ':', ' '), { minLength: 1, maxLength: 30 })
  .map((signs) => signs.join(''));
const names = fc.oneof(
  fc.array(name, { minLength: 1, maxLength: 6 }),
  fc
    .tuple(name, fc.array(name, { minLength: 1, maxLength: 6 }), name)
    .map(([start, middles, end]) => middles.map((middle) => start + middle + end)),
);

describe('names of one picture', () => {
  it('differ where the whole names differ, are alike where these are, and have their room', () => {
    fc.assert(
      fc.property(names, fc.integer({ min: 6, max: 20 }), (whole, most) => {
        const shown = fittedApart(whole, (text) => [...text].length <= most);
        expect(new Set(shown).size).toBe(new Set(whole).size);
        whole.forEach((text, i) => {
          expect([...(shown[i] as string)].length).toBeLessThanOrEqual(most);
          if (shown[i] === text) return;
          expect(shown[i]).toContain('…');
          expect(whole.filter((other) => other === text).length).toBe(
            shown.filter((other) => other === shown[i]).length,
          );
        });
      }),
      { seed: 20261125, numRuns: 3000 },
    );
  });

  it('stand whole where there is room, and keep both ends where these tell them apart', () => {
    const fits = (text: string) => text.length <= 9;
    expect(fittedApart(['root', 'tip'], fits)).toEqual(['root', 'tip']);
    expect(fittedApart(['AAAAAAAAAA1', 'AAAAAAAAAA2'], fits)).toEqual(['AAAA…AAA1', 'AAAA…AAA2']);
  });

  it('leave out the beginning that they share where only the middle differs', () => {
    const names = ['UPPER-LEFT-STUB-END', 'UPPER-RIGHT-STUB-END', 'root'];
    expect(fittedApart(names, (text) => text.length <= 11)).toEqual(['…LEFT…B-END', '…RIGH…B-END', 'root']);
  });
});
