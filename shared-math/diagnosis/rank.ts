/**
 * Rank of the design in the order of separation: from each block only what the earlier ones cannot make.
 *
 * Source: G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed. (2013), 5.5 (rank by singular values); the singular values
 * are those of the block's columns, each of unit length, with the earlier blocks projected out.
 */
import { smallSpectrum } from '../association/small-spectrum.ts';
import type { DesignBlock, DesignName } from './design.ts';
import { dotProduct, product, type ReadonlyRows, type Rows } from './symmetric.ts';

/** A block with the combinations of its columns that the stations can tell from everything before. */
export interface RankedBlock extends DesignBlock {
  /** Columns of the fit in terms of the block's parameters: parameters = map·coefficients. */
  readonly map: ReadonlyRows;
  /** Six rows for each station, one entry a coefficient. */
  readonly reduced: readonly ReadonlyRows[];
  /** First coefficient in the fit. */
  readonly first: number;
  readonly dimensions: number;
  /** Combinations that were left out, and which earlier components make the same errors. */
  readonly confounded: readonly {
    readonly with: readonly DesignName[];
    readonly combination: readonly number[];
  }[];
  /** Orthonormal columns over the stations that count: what this block adds to those before it. */
  readonly basis: readonly (readonly number[])[];
}

/**
 * A direction of a block counts as one that the earlier blocks make as well where less than this share of it is its own: its
 * uncertainty would be more than fifty times that of the cause alone.
 */
const HARDLY_OWN = 0.02;
/** The split of a constant offset is by definition (see `toolSetupBlock`): seats that hardly differ do not undo it. */
const HARDLY_OWN_TOOL = 0.05;
/** A combination of columns shorter than this share of them is no effect at all. */
const NO_EFFECT = 1e-8;
/** Earlier components that make at least this share of a confounded direction are named. */
const NAMED_SHARE = 0.1;

/**
 * @param counts which stations count; the others get rows all the same, for what the causes make there.
 * @param accept whether to keep a block, given its dimensions and those before it; a block that is not kept takes nothing from
 *   the later ones.
 * @param before blocks that are ranked already and come first, with the same stations counting.
 */
export function rankBlocks(
  blocks: readonly DesignBlock[],
  counts: readonly boolean[],
  accept: (block: DesignBlock, dimensions: number, before: number) => boolean = () => true,
  before: readonly RankedBlock[] = [],
): RankedBlock[] {
  const basis: { readonly column: readonly number[]; readonly name: DesignName }[] = before.flatMap((b) =>
    b.basis.map((column) => ({ column, name: b.name })),
  );
  const counting = (rows: readonly ReadonlyRows[]) => rows.filter((_, k) => counts[k]);
  let first = before.reduce((sum, b) => sum + b.dimensions, 0);
  const added = blocks.flatMap((block): RankedBlock[] => {
    const columns = block.keys.map((_, j) => flatten(counting(block.rows), j));
    const lengths = columns.map((c) => Math.sqrt(dotProduct(c, c)));
    const longest = Math.max(...lengths, 0);
    const live = lengths.flatMap((l, j) => (l > NO_EFFECT * longest ? [j] : []));
    const unit = live.map((j) => columns[j]!.map((x) => x / lengths[j]!));
    const residuals = unit.map((c) => rejected(rejected(c, basis), basis));
    const { singularValues, rightVectors, images } = smallSpectrum(residuals);
    const tolerance = block.name === 'toolSetup' ? HARDLY_OWN_TOOL : HARDLY_OWN;
    const kept = singularValues.flatMap((s, k) => (s > tolerance ? [k] : []));
    if (!accept(block, kept.length, first)) return [];
    const combinationOf = (k: number): number[] => {
      const out = block.keys.map(() => 0);
      live.forEach((j, a) => {
        out[j] = rightVectors[k]![a]! / lengths[j]!;
      });
      return out;
    };
    // Orthonormal combinations of columns of unit length: what is made of them does not hang on how equal singular values turn.
    const map = block.keys.map((_, j) => kept.map((k) => combinationOf(k)[j]!));
    const confounded = singularValues.flatMap((s, k) => {
      // The split of a constant offset is stated in its own place.
      if (s > tolerance || block.name === 'toolSetup') return [];
      const combination = combinationOf(k);
      const direction = flattenCombination(counting(block.rows), combination);
      const size = dotProduct(direction, direction);
      // Columns that are dependent among themselves make no errors.
      if (size < NO_EFFECT) return [];
      return [{ with: sharers(direction, basis, size), combination }];
    });
    const own = kept.map((k) => images[k]!.map((x) => x / singularValues[k]!));
    for (const column of own) basis.push({ column, name: block.name });
    const ranked: RankedBlock = {
      ...block,
      map,
      reduced: block.rows.map((rows) => product(rows, map)),
      first,
      dimensions: kept.length,
      confounded,
      basis: own,
    };
    first += kept.length;
    return [ranked];
  });
  return [...before, ...added];
}

function flatten(rows: readonly ReadonlyRows[], column: number): number[] {
  const out = new Array<number>(6 * rows.length);
  let at = 0;
  for (const six of rows) for (const row of six) out[at++] = row[column]!;
  return out;
}

function flattenCombination(rows: readonly ReadonlyRows[], combination: readonly number[]): number[] {
  return rows.flatMap((six) => six.map((row) => dotProduct(row, combination)));
}

function rejected(
  column: readonly number[],
  basis: readonly { readonly column: readonly number[] }[],
): number[] {
  const out = [...column];
  for (const { column: q } of basis) {
    const c = dotProduct(q, out);
    for (let i = 0; i < out.length; i++) out[i] = out[i]! - c * q[i]!;
  }
  return out;
}

function sharers(
  direction: readonly number[],
  basis: readonly { readonly column: readonly number[]; readonly name: DesignName }[],
  size: number,
): DesignName[] {
  const shares = new Map<DesignName, number>();
  for (const { column, name } of basis)
    shares.set(name, (shares.get(name) ?? 0) + dotProduct(column, direction) ** 2 / size);
  return [...shares].flatMap(([name, share]) => (share >= NAMED_SHARE ? [name] : []));
}

/** The design matrix of all blocks: six rows for each station. */
export function designOf(blocks: readonly RankedBlock[], stations: number): Rows[] {
  return Array.from({ length: stations }, (_, k) =>
    [0, 1, 2, 3, 4, 5].map((i) => blocks.flatMap((b) => [...b.reduced[k]![i]!])),
  );
}
