/** Which cell of a row holds what: from the plan, else from the header, else in the canonical order. */
import type { Problem } from '../api.ts';
import { list, nearest } from '../nearest.ts';
import { type ColumnRole, columnRoles, type PlanImport } from '../plan/plan-schema.ts';
import { describe, type Fault, RefusedInput } from '../problems.ts';
import { headerName, rankFor } from './header-names.ts';

export interface Columns {
  /** Cell index (from 0) of each role that the file has. */
  readonly index: Readonly<Partial<Record<ColumnRole, number>>>;
  /** Header, or number from 1 where there is none, of every cell index. */
  readonly names: readonly string[];
  /** Cells that a full row has. */
  readonly count: number;
  /** Roles that the plan named. */
  readonly fromPlan: readonly ColumnRole[];
  /** Unit that the headers of x, y, z state. */
  readonly headerUnit: 'mm' | 'inch' | 'µm' | null;
}

export interface ColumnContext {
  readonly file: string;
  readonly header: readonly string[] | null;
  readonly sample: readonly (readonly string[])[];
  readonly stated: PlanImport | undefined;
  readonly headerLine: number;
  /** Words that say how cells are separated, for the remedy of a missing column. */
  readonly delimiterName: string;
}

const SEPARATE = ['station', 'feature'] as const;
const REQUIRED_AXES = ['x', 'y', 'z'] as const;

/** Finds the columns. @throws RefusedInput naming every role that is missing or ambiguous */
export function findColumns(context: ColumnContext): Columns {
  const { header, sample, stated } = context;
  const width = header?.length ?? Math.max(0, ...sample.slice(0, 40).map((row) => row.length));
  const names = Array.from({ length: width }, (_, index) => header?.[index]?.trim() || String(index + 1));
  const problems: Problem[] = [];
  const index: Partial<Record<ColumnRole, number>> = {};
  const fromPlan: ColumnRole[] = [];

  for (const role of columnRoles) {
    const reference = stated?.columns?.[role];
    if (reference === undefined || reference === null) continue;
    const found = referenced(reference, role, context, names, problems);
    if (found !== null) index[role] = found;
    fromPlan.push(role);
  }
  if (header !== null) detectByHeader(header, index, context, problems);
  else if (fromPlan.length === 0) Object.assign(index, canonicalOrder(sample, width));

  // A column of labels beside a station column holds the feature.
  if (index.station !== undefined && index.feature === undefined && index.label !== undefined) {
    index.feature = index.label;
    delete index.label;
  }
  // A feature column without a station column holds both.
  if (index.station === undefined && index.label === undefined && index.feature !== undefined) {
    index.label = index.feature;
    delete index.feature;
  }
  if (index.label !== undefined && index.station !== undefined) delete index.label;

  if (problems.length === 0) {
    const required = index.label === undefined ? ([...SEPARATE, ...REQUIRED_AXES] as const) : REQUIRED_AXES;
    const absent = required.filter((role) => index[role] === undefined);
    if (absent.length > 0) problems.push(missing(absent, context, names));
    const normals = (['i', 'j', 'k'] as const).filter((role) => index[role] !== undefined);
    if (normals.length > 0 && normals.length < 3)
      problems.push(
        describe({
          code: 'missing-column',
          file: context.file,
          line: context.headerLine,
          says: 'a surface normal needs the three columns i, j, k',
          value: `only ${list(normals)}`,
          expected: 'all three or none',
          remedy: 'export the missing ones',
        }),
      );
  }
  if (problems.length > 0) throw new RefusedInput(problems);
  return { index, names, count: width, fromPlan, headerUnit: unitOfHeader(header, index, context) };
}

function referenced(
  reference: string | number,
  role: ColumnRole,
  context: ColumnContext,
  names: readonly string[],
  problems: Problem[],
): number | null {
  const { header } = context;
  const base: Pick<Fault, 'file' | 'value'> = { file: context.file, value: String(reference) };
  if (header !== null && typeof reference === 'string') {
    const same = (test: (cell: string) => boolean): number[] =>
      header.flatMap((cell, index) => (test(cell.trim()) ? [index] : []));
    const exact = same((cell) => cell === reference);
    const found = exact.length > 0 ? exact : same((cell) => cell.toLowerCase() === reference.toLowerCase());
    if (found.length === 1) return found[0] as number;
    if (found.length > 1) {
      problems.push(ambiguous(role, found, context, names));
      return null;
    }
  }
  const number =
    typeof reference === 'number' ? reference : /^[1-9][0-9]*$/.test(reference) ? Number(reference) : null;
  if (number !== null && number <= names.length) return number - 1;
  const near = typeof reference === 'string' ? nearest(reference, names) : null;
  problems.push(
    describe({
      ...base,
      code: 'missing-column',
      line: context.headerLine,
      says:
        number !== null
          ? `the plan takes ${role} from column ${number}, but the rows have ${names.length} cells`
          : header === null
            ? `the plan names the column of ${role}, but the file has no header`
            : `the plan names a column for ${role} that the file does not have`,
      expected: header === null ? `a column number from 1 to ${names.length}` : `one of ${names.join(', ')}`,
      remedy:
        near !== null
          ? `write "${near}" in import.columns.${role} if that is meant`
          : `correct import.columns.${role}, or check the delimiter (${context.delimiterName} was taken)`,
    }),
  );
  return null;
}

function detectByHeader(
  header: readonly string[],
  index: Partial<Record<ColumnRole, number>>,
  context: ColumnContext,
  problems: Problem[],
): void {
  const keys = header.map((cell) => headerName(cell).key);
  const taken = new Set(Object.values(index));
  const packed = (context.stated?.columns?.label ?? null) !== null;
  for (const role of columnRoles) {
    if (index[role] !== undefined || context.stated?.columns?.[role] !== undefined) continue;
    // The plan's label column holds station and feature, whatever else the file has.
    if (packed && (role === 'station' || role === 'feature')) continue;
    let bestRank = Number.POSITIVE_INFINITY;
    let found: number[] = [];
    keys.forEach((key, column) => {
      const rank = rankFor(role, key);
      if (rank < 0 || rank > bestRank || taken.has(column)) return;
      found = rank < bestRank ? [column] : [...found, column];
      bestRank = rank;
    });
    if (found.length > 1) problems.push(ambiguous(role, found, context, header));
    else if (found[0] !== undefined) {
      index[role] = found[0];
      taken.add(found[0]);
    }
  }
}

/** station,feature,x,y,z[,i,j,k], or label,x,y,z[,i,j,k], for files without a header. */
function canonicalOrder(
  sample: readonly (readonly string[])[],
  width: number,
): Partial<Record<ColumnRole, number>> {
  const numbered = sample.filter((row) => /^\s*\d*(?:[.,]0*)?\s*$/.test(row[0] ?? '')).length;
  const separate = width >= 5 && 2 * numbered >= sample.length;
  const roles: ColumnRole[] = separate ? ['station', 'feature', 'x', 'y', 'z'] : ['label', 'x', 'y', 'z'];
  if (width >= roles.length + 3) roles.push('i', 'j', 'k');
  return Object.fromEntries(roles.slice(0, width).map((role, column) => [role, column]));
}

function missing(roles: readonly ColumnRole[], context: ColumnContext, names: readonly string[]): Problem {
  const found =
    context.header === null
      ? `no header, ${names.length} ${names.length === 1 ? 'cell' : 'cells'} a row`
      : names.join(', ');
  const first = roles[0] as ColumnRole;
  const near = context.header === null || roles.length > 1 ? null : nearest(first, names);
  return describe({
    code: 'missing-column',
    file: context.file,
    line: context.headerLine,
    ...(roles.length === 1 ? { column: first } : {}),
    says: roles.length === 1 ? `the column ${first} is missing` : `the columns ${list(roles)} are missing`,
    value: found,
    expected: 'the columns station, feature (or one label with both), x, y, z',
    remedy:
      near !== null
        ? `if "${near}" is meant, name it in import.columns.${first} of the plan`
        : `export ${roles.length === 1 ? 'it' : 'them'}, or name the columns in the plan (import.columns.${first} …), or check the delimiter (${context.delimiterName} was taken)`,
  });
}

function ambiguous(
  role: ColumnRole,
  found: readonly number[],
  context: ColumnContext,
  names: readonly string[],
): Problem {
  return describe({
    code: 'ambiguous-column',
    file: context.file,
    line: context.headerLine,
    column: role,
    says: `more than one column could be ${role}`,
    value: found.map((column) => `${names[column]} (column ${column + 1})`).join(', '),
    expected: 'one',
    remedy: `give its number in import.columns.${role} of the plan`,
  });
}

function unitOfHeader(
  header: readonly string[] | null,
  index: Partial<Record<ColumnRole, number>>,
  context: ColumnContext,
): 'mm' | 'inch' | 'µm' | null {
  const stated = REQUIRED_AXES.map((role) => headerName(header?.[index[role] ?? -1] ?? ''));
  const units = new Set(stated.map((name) => name.unit).filter((unit) => unit !== null));
  if (units.size === 0) return null;
  const [unit] = units;
  if (units.size > 1 || unit === undefined || unit === 'other')
    throw new RefusedInput([
      describe({
        code: 'wrong-unit',
        file: context.file,
        line: context.headerLine,
        says: units.size > 1 ? 'x, y and z are in different units' : 'this unit is not read',
        value: stated.map((name) => name.unitText).join(', '),
        expected: 'mm, inch or µm, the same for the three',
        remedy: 'export in one of these units',
      }),
    ]);
  return unit;
}
