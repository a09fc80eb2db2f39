import type { ReactNode } from 'react';
import type { BudgetFinding, BudgetLine, ComponentName } from '../../../shared-math/diagnosis/findings.ts';
import {
  exportNumber,
  formatLimit,
  formatValue,
  plainUnit,
  type Units,
  unitWord,
} from '../../format/format.ts';
import { inUnits } from '../../format/sentence.ts';
import type { Sheet } from '../../parts/sheet.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { budgetWords, intervalText } from './rows.ts';

interface BudgetTableProps {
  readonly budget: BudgetFinding;
  readonly units: Units;
  readonly fileName: string;
  readonly controls: ReactNode;
  /** Components that were not examined. */
  readonly unseen: ReadonlySet<ComponentName>;
}

const marks = {
  within: 'conforming',
  over: 'nonconforming',
  undecided: 'unproven',
  unknown: 'missing',
} as const;

/** Planned allocations against what was found. */
export function BudgetTable({ budget, units, fileName, controls, unseen }: BudgetTableProps) {
  const { lines, allocated, found, left } = budget;
  return (
    <section className="budget-table panel" aria-label="Budget">
      <header className="chart-head">
        <div className="chart-title">
          <h2>Budget of the position tolerance</h2>
          <p className="caption">position used up in the zones of the plan, {unitWord('size', units)}</p>
        </div>
        {controls}
        <div className="chart-tools">
          <SheetTools
            sheet={budgetSheet(budget, units, unseen)}
            fileName={`${fileName}-budget`}
            of="the budget"
          />
        </div>
      </header>
      <div className="sheet-scroll">
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">Line</th>
              <th scope="col" className="number">
                Allocated
              </th>
              <th scope="col" className="number">
                Found
              </th>
              <th scope="col">Interval</th>
              <th scope="col" className="number">
                Used
              </th>
              <th scope="col" className="number">
                Left
              </th>
              <th scope="col">State</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <Line key={line.name} line={line} units={units} unseen={unseen} />
            ))}
          </tbody>
          <tfoot>
            {(
              [
                ['Worst case (sum)', 'worstCase'],
                ['Root sum of squares', 'rootSumSquare'],
              ] as const
            ).map(([title, name]) => (
              <tr key={name}>
                <th scope="row">{title}</th>
                <td className="number">{formatLimit(allocated[name], 'size', units)}</td>
                <td className="number">{formatValue(found[name], 'size', units)}</td>
                <td />
                <td className="number">{percent(found[name] / budget.tolerance)}</td>
                <td className={`number ${left[name] < 0 ? 'nonconforming' : ''}`}>
                  {formatValue(left[name], 'size', units)}
                </td>
                <td>
                  {left[name] < 0 ? 'overspent' : 'left'} of {formatLimit(budget.tolerance, 'size', units)}
                </td>
              </tr>
            ))}
          </tfoot>
        </table>
        <p className="budget-sentence">{inUnits(budget.sentence, budget.figures, units)}</p>
      </div>
    </section>
  );
}

function Line(props: {
  readonly line: BudgetLine;
  readonly units: Units;
  readonly unseen: ReadonlySet<ComponentName>;
}) {
  const { line, units, unseen } = props;
  const { allocated, found, used, state } = line;
  return (
    <>
      <tr className={line.distinguishable ? '' : 'muted'} data-line={line.name}>
        <th scope="row">{line.title}</th>
        <td className="number">{allocated === null ? '–' : formatLimit(allocated, 'size', units)}</td>
        <td className="number">{found === null ? '–' : formatValue(found.value, 'size', units)}</td>
        <td className="interval">{found === null ? '' : intervalText(found, 'size', units)}</td>
        <td className="number">{used === null ? '' : percent(used)}</td>
        <td className={`number ${(remaining(line) ?? 0) < 0 ? state : ''}`}>
          {remaining(line) === null ? '' : formatValue(remaining(line) ?? 0, 'size', units)}
        </td>
        <td>
          <span className="standing">
            <VerdictMark standing={marks[state]} />
            {stateWords(line, unseen)}
          </span>
        </td>
      </tr>
      {line.otherwise !== null && (
        <tr className="otherwise">
          <th scope="row" colSpan={2}>
            {line.otherwise.words}
          </th>
          <td className="number">
            {line.otherwise.found === null ? '–' : formatValue(line.otherwise.found.value, 'size', units)}
          </td>
          <td className="interval">
            {line.otherwise.found === null ? '' : intervalText(line.otherwise.found, 'size', units)}
          </td>
          <td className="number">{line.otherwise.used === null ? '' : percent(line.otherwise.used)}</td>
          <td />
          <td>{budgetWords[line.otherwise.state]}</td>
        </tr>
      )}
    </>
  );
}

function remaining({ allocated, found }: BudgetLine): number | null {
  return allocated === null || found === null ? null : allocated - found.value;
}

function stateWords(line: BudgetLine, unseen: ReadonlySet<ComponentName>): string {
  if (!line.counted) return 'not in the sums';
  if (line.components.length === 0 && line.found === null) return 'no point can show it';
  if (line.components.length > 0 && line.components.every((name) => unseen.has(name))) return 'not examined';
  if (!line.distinguishable) return 'not distinguishable';
  return line.allocated === null ? 'no allocation' : budgetWords[line.state];
}

function percent(part: number): string {
  return `${(100 * part).toFixed(0)} %`;
}

function budgetSheet(budget: BudgetFinding, units: Units, unseen: ReadonlySet<ComponentName>): Sheet {
  const unit = plainUnit('size', units);
  const number = (value: number | null): string => exportNumber(value, 'size', units);
  return {
    head: ['line', 'allocated', 'found', 'low', 'high', 'left']
      .map((name, index) => (index === 0 ? name : `${name} (${unit})`))
      .concat('state'),
    rows: [
      ...budget.lines.map((line) => [
        line.title,
        number(line.allocated),
        number(line.found?.value ?? null),
        number(line.found?.low ?? null),
        number(line.found?.high ?? null),
        number(remaining(line)),
        stateWords(line, unseen),
      ]),
      ...(['worstCase', 'rootSumSquare'] as const).map((name) => [
        name === 'worstCase' ? 'worst case' : 'root sum of squares',
        number(budget.allocated[name]),
        number(budget.found[name]),
        '',
        '',
        number(budget.left[name]),
        `of tolerance ${number(budget.tolerance)}`,
      ]),
    ],
  };
}
