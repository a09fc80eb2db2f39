/** What a look at a point file finds besides its rows: the unit, and what stands against reading it. */
import type { PointsPreview, Problem } from '../api.ts';
import { list } from '../nearest.ts';
import type { PlanImport } from '../plan/plan-schema.ts';
import { describe } from '../problems.ts';
import type { Encoding } from '../text-encoding.ts';
import { headerName } from './header-names.ts';
import { unitOf } from './length-unit.ts';
import type { PreviewContext } from './preview-tally.ts';

/** Largest extents of parts that are welded this way, mm; beyond them another unit is more likely. Common practice, no source. */
const SMALLEST_PART = 50;
const LARGEST_PART = 5000;

export function unitOfFile(
  { header, index }: PreviewContext,
  extent: readonly [number, number, number] | null,
  stated: PlanImport,
): { readonly unit: 'mm' | 'inch' | 'µm'; readonly because: PointsPreview['unitBecause'] } {
  const given = unitOf(stated.unit);
  if (given !== null) return { unit: given, because: 'stated' };
  const units = new Set(
    (['x', 'y', 'z'] as const).map((role) => headerName(header?.[index[role] ?? -1] ?? '').unit),
  );
  const [only] = units;
  if (units.size === 1 && only !== null && only !== undefined && only !== 'other')
    return { unit: only, because: 'header' };
  const largest = Math.max(...(extent ?? [0]));
  if (largest === 0) return { unit: 'mm', because: 'nothing' };
  if (largest > LARGEST_PART) return { unit: 'µm', because: 'size' };
  return { unit: largest < SMALLEST_PART ? 'inch' : 'mm', because: 'size' };
}

export function columnProblems(
  { file, index, pattern }: PreviewContext,
  names: readonly string[],
): Problem[] {
  const problems: Problem[] = [];
  const needed =
    index.label === undefined ? (['station', 'feature', 'x', 'y', 'z'] as const) : (['x', 'y', 'z'] as const);
  const absent = needed.filter((role) => index[role] === undefined);
  const fault = { code: 'missing-column', file, value: names.join(', ') };
  if (absent.length > 0)
    problems.push(
      describe({
        ...fault,
        says: `no column was recognised as ${list(absent)}`,
        expected: 'station and feature (or one label with both), x, y, z',
        remedy: 'say above the column what it holds',
      }),
    );
  const normals = (['i', 'j', 'k'] as const).filter((role) => index[role] !== undefined);
  if (normals.length > 0 && normals.length < 3)
    problems.push(
      describe({
        ...fault,
        says: `a surface normal needs three columns, and only ${list(normals)} is set`,
        remedy: 'set the missing ones, or take the others away',
      }),
    );
  if (index.label !== undefined && pattern === null)
    problems.push(
      describe({
        code: 'label-pattern',
        file,
        says: 'no common pattern finds a station in the labels',
        remedy: 'give a pattern, or choose the columns of station and feature',
      }),
    );
  return problems;
}

export function wrongEncoding(file: string, encoding: Encoding): Problem {
  return describe({
    code: 'wrong-encoding',
    file,
    says: 'the bytes do not fit the encoding',
    value: encoding,
    expected: 'text in one encoding throughout',
    remedy: 'choose another encoding',
  });
}
