/**
 * Sequential sums of squares of the whitened errors, by orthogonal triangularisation of the whitened design in the order of
 * separation. All stations count, those set apart as outliers with six columns of their own.
 *
 * Source: G. A. F. Seber, A. J. Lee, Linear Regression Analysis (2003), 3.6 and 11.3 (from memory).
 */
import type { ComponentName } from './findings.ts';
import { totalCovariance } from './mixed-model.ts';
import type { Separation } from './separation.ts';
import { dotProduct, product, times, whitener } from './symmetric.ts';

export interface Share {
  readonly sumOfSquares: number;
  readonly dimensions: number;
}

/** A whitened column that earlier ones leave less than this share of carries nothing of its own. */
const LOST = 1e-9;

/** @returns a share for each component with columns, outliers and scatter; they add up to `total`. */
export function sequentialShares(s: Separation): {
  readonly total: number;
  readonly of: ReadonlyMap<ComponentName, Share>;
} {
  const whiteners = s.observations.map((o) =>
    whitener(totalCovariance(o.own, o.motions[5]!, s.fit.components)),
  );
  const y = s.observations.flatMap((o, k) => times(whiteners[k]!, o.error));
  const whitened = s.design.map((rows, k) => product(whiteners[k]!, rows));
  const columns: { name: ComponentName; column: number[] }[] = s.blocks.flatMap((b) =>
    Array.from({ length: b.dimensions }, (_, i) => ({
      name: b.name,
      column: whitened.flatMap((rows) => rows.map((row) => row[b.first + i]!)),
    })),
  );
  s.counts.forEach((counts, k) => {
    if (!counts)
      for (let i = 0; i < 6; i++)
        columns.push({ name: 'outliers', column: y.map((_, r) => (r === 6 * k + i ? 1 : 0)) });
  });
  const of = new Map<ComponentName, Share>();
  const basis: number[][] = [];
  const total = dotProduct(y, y);
  for (const { name, column } of columns) {
    const length = Math.sqrt(dotProduct(column, column));
    const q = column.slice();
    for (let twice = 0; twice < 2; twice++)
      for (const b of basis) {
        const c = dotProduct(b, q);
        if (c !== 0) for (let r = 0; r < q.length; r++) q[r] = q[r]! - c * b[r]!;
      }
    const left = Math.sqrt(dotProduct(q, q));
    if (!(left > LOST * length)) continue;
    const unit = q.map((x) => x / left);
    basis.push(unit);
    const before = of.get(name) ?? { sumOfSquares: 0, dimensions: 0 };
    of.set(name, {
      sumOfSquares: before.sumOfSquares + dotProduct(unit, y) ** 2,
      dimensions: before.dimensions + 1,
    });
  }
  const explained = [...of.values()].reduce((sum, share) => sum + share.sumOfSquares, 0);
  of.set('scatter', {
    sumOfSquares: Math.max(0, total - explained),
    dimensions: y.length - basis.length,
  });
  return { total, of };
}
