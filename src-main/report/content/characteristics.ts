/**
 * Accountability of characteristics in the sense of SAE AS9102: every requirement with its results, none left open. The plan
 * numbers them; where it does not, the requirements of this report are numbered here.
 */
import { type Block, heading, note, type TableRow } from '../document.ts';
import { type Context, capital, quiet, verdictText } from './context.ts';
import { type Account, type Requirement, requirementsOf } from './requirements.ts';

export function characteristicsSection(context: Context): readonly Block[] {
  const { m, plan } = context;
  const words = m.characteristics;
  const { characteristics } = plan.details;
  const requirements = requirementsOf(context);
  const rows =
    characteristics.length === 0 ? generatedRows(context, requirements) : plannedRows(context, requirements);
  return [
    heading(2, words.title),
    note(characteristics.length === 0 ? words.generated : words.given),
    {
      kind: 'table',
      caption: words.table,
      columns: [
        { header: words.number, align: 'left' },
        ...(characteristics.some(({ reference }) => reference !== '')
          ? [{ header: words.reference, align: 'left' as const }]
          : []),
        { header: words.station, align: 'right' },
        { header: words.quantity, align: 'left', grow: 1.4 },
        { header: words.requirement, align: 'right', grow: 0.2 },
        { header: words.result, align: 'right' },
        { header: 'U', align: 'right' },
        { header: 'P', align: 'right' },
        { header: m.stations.verdict, align: 'left' },
      ],
      rows: rows.map(({ row }) => row),
    },
    totalsTable(context, rows),
  ];
}

/** What a row of the table says of its requirement. */
type Standing = Account['verdict'] | 'elsewhere';

interface AccountedRow {
  readonly standing: Standing;
  readonly row: TableRow;
}

const STANDINGS: readonly Standing[] = ['conforming', 'nonconforming', 'unproven', 'missing', 'elsewhere'];

/** How many rows stand for what: together they are all that the table lists. */
function totalsTable(context: Context, rows: readonly AccountedRow[]): Block {
  const { m } = context;
  const words = m.characteristics;
  const counted = STANDINGS.map((standing) => ({
    standing,
    count: rows.filter((row) => row.standing === standing).length,
  }));
  return {
    kind: 'table',
    caption: words.totals,
    columns: [
      { header: words.outcome, align: 'left', grow: 1 },
      { header: m.summary.count, align: 'right' },
    ],
    rows: [
      ...counted
        .filter(({ standing, count }) => count > 0 || (standing !== 'missing' && standing !== 'elsewhere'))
        .map(({ standing, count }) => ({
          cells: [
            standing === 'elsewhere'
              ? capital(words.elsewhere)
              : standing === 'missing'
                ? capital(words.notMeasured)
                : verdictText(context, standing),
            String(count),
          ],
        })),
      { cells: [words.total, String(rows.length)], apart: true },
    ],
  };
}

function generatedRows(context: Context, requirements: readonly Requirement[]): readonly AccountedRow[] {
  return requirements
    .filter(({ over }) => over === undefined)
    .flatMap(({ accounts }, index) =>
      accounts.map((account) =>
        accountRow(
          context,
          [accounts.length === 1 ? String(index + 1) : `${index + 1}.${account.station}`],
          account,
        ),
      ),
    );
}

/** The plan's characteristics with what they ask for, then, station by station, the requirements that none of them numbers. */
function plannedRows(context: Context, requirements: readonly Requirement[]): readonly AccountedRow[] {
  const { m, plan } = context;
  const { characteristics } = plan.details;
  const withReference = characteristics.some(({ reference }) => reference !== '');
  const lead = (number: string, reference: string) => (withReference ? [number, reference] : [number]);
  const used = new Set<Account>();
  const rows = characteristics.flatMap(({ number, reference, quantity, requirement }): AccountedRow[] => {
    const found = requirementNamed(requirements, quantity);
    if (found === null)
      return [{ standing: 'elsewhere', row: elsewhereRow(lead(number, reference), quantity, requirement) }];
    const stations = new Set(found.accounts.map((account) => account.station));
    for (const { accounts } of [found.requirement, ...(found.requirement.over ?? [])])
      for (const account of accounts) if (stations.has(account.station)) used.add(account);
    return found.accounts.map((account) =>
      accountRow(context, lead(number, reference), {
        ...account,
        requirement: plannedRequirement(requirement, account.requirement),
      }),
    );
  });
  const rest = requirements
    .filter(({ over }) => over === undefined)
    .flatMap(({ accounts }) => accounts.filter((account) => !used.has(account)))
    .map((account) => accountRow(context, lead('–', ''), account));
  return [...rows, ...rest];

  function elsewhereRow(cells: readonly string[], quantity: string, requirement: string): TableRow {
    const elsewhere = { text: m.characteristics.elsewhere, tone: 'unproven', bold: true } as const;
    return {
      tone: 'unproven',
      cells: [...cells, '', [m.colon(quantity, ''), elsewhere], requirement, '', '', '', '–'],
    };
  }
}

/** `position`, `position tip`, `upset`, each with or without `station 7`. */
function requirementNamed(
  requirements: readonly Requirement[],
  quantity: string,
): { readonly requirement: Requirement; readonly accounts: readonly Account[] } | null {
  const [, name = '', station] = /^(.*?)[\s,;:]*(?:station\s*(\d+))?$/i.exec(plainName(quantity)) ?? [];
  const requirement = requirements.find(({ names }) => names.some((known) => plainName(known) === name));
  if (requirement === undefined) return null;
  const accounts =
    station === undefined
      ? requirement.accounts
      : requirement.accounts.filter((account) => account.station === String(Number(station)));
  return accounts.length === 0 ? null : { requirement, accounts };
}

/** The plan's own words, and the limit in force where they are not all. */
function plannedRequirement(stated: string, limit: string): string {
  if (stated === '' || limit === '') return stated + limit;
  return `${stated} (${limit})`;
}

/** Small letters, single blanks: `Position  Tip` and `position tip` are one. */
function plainName(text: string): string {
  return text.trim().toLowerCase().replace(/\s+/g, ' ');
}

function accountRow(context: Context, lead: readonly string[], account: Account): AccountedRow {
  const row: TableRow = {
    ...(account.verdict === 'conforming' ? {} : { tone: account.verdict }),
    cells: [
      ...lead,
      account.station,
      account.reason === undefined ? account.quantity : [account.quantity, ...quiet(` – ${account.reason}`)],
      account.requirement,
      account.result,
      account.expanded,
      account.probability,
      verdictText(context, account.verdict),
    ],
  };
  return { standing: account.verdict, row };
}
