import type { ComponentName } from '../../../shared-math/diagnosis/findings.ts';
import { ChartPanel } from '../../chart/chart-panel.tsx';
import { chooseByKey } from '../../chart/choose-by-key.ts';
import { LegendItem } from '../../chart/legend-item.tsx';
import { fileStem } from '../../parts/download.ts';
import { Segmented } from '../../parts/segmented.tsx';
import { VerdictShape } from '../../parts/verdict-mark.tsx';
import { useKept, useLasting } from '../../state/kept.ts';
import { allocationMarks, BudgetChart, spokenRow } from './budget-chart.tsx';
import { BudgetTable } from './budget-table.tsx';
import { ComponentCard } from './component-card.tsx';
import { Findings } from './findings.tsx';
import { causeRows, causesSheet, componentOf } from './rows.ts';
import type { DiagnosisProps } from './topics.ts';

/** The causes by size, the budget they use up, and the card of the chosen one. */
export function Overview({ disc, diagnosis, units, selected, onSelect, onKey }: DiagnosisProps) {
  const rows = causeRows(diagnosis);
  const [chosen, setChosen] = useKept<ComponentName | null>(
    disc,
    'cause',
    diagnosis.leading ?? rows[0]?.component.name ?? null,
  );
  const [reading, setReading] = useLasting<'causes' | 'lines'>('causes-reading', 'causes');
  const component = componentOf(diagnosis, chosen);
  const stem = fileStem(disc.plan.title);
  const { tolerance } = diagnosis.budget;
  const unseen = rows.filter((row) => row.component.notExamined !== null);
  const controls = (
    <Segmented
      title="Reading of the budget"
      value={reading}
      onChange={setReading}
      choices={[
        ['causes', 'Causes', 'Causes by size'],
        ['lines', 'Budget', 'Budget by line'],
      ]}
    />
  );
  return (
    <div className={`overview ${reading === 'lines' ? 'as-lines' : ''}`}>
      <Findings diagnosis={diagnosis} units={units} />
      {reading === 'lines' ? (
        <BudgetTable
          budget={diagnosis.budget}
          units={units}
          fileName={stem}
          controls={controls}
          unseen={new Set(unseen.map((row) => row.component.name))}
        />
      ) : (
        <ChartPanel
          title="Causes by size"
          caption="twice the largest displacement each causes alone"
          controls={controls}
          label={`Components by size, largest first. ${rows.map((row) => spokenRow(row, units)).join('. ')}. Up and Down choose one.`}
          onKey={(event) =>
            chooseByKey(
              event,
              rows.map((row) => row.component.name),
              chosen,
              setChosen,
            )
          }
          fileName={`${stem}-causes`}
          pictureTitle={`${disc.plan.title}: causes by size`}
          sheet={causesSheet(rows, units)}
          foot={
            <Legend
              unseen={unseen.map(({ component: { title, notExamined } }) => [title, notExamined ?? ''])}
            />
          }
        >
          {(width, height) => (
            <BudgetChart
              rows={rows}
              tolerance={tolerance}
              units={units}
              chosen={chosen}
              onChoose={setChosen}
              width={width}
              height={height}
            />
          )}
        </ChartPanel>
      )}
      {component !== null && (
        <ComponentCard
          disc={disc}
          diagnosis={diagnosis}
          component={component}
          units={units}
          selected={selected}
          onSelect={onSelect}
          onKey={onKey}
        />
      )}
    </div>
  );
}

function AgainstItem(props: { readonly against: keyof typeof allocationMarks; readonly children: string }) {
  const { against, children } = props;
  const standing = allocationMarks[against];
  return (
    <LegendItem
      width={33}
      height={10}
      className={`cause-row ${against}`}
      mark={
        <>
          <rect className="bar" y="1" width="18" height="8" />
          <g className={`mark ${standing}`} transform="translate(26 5) scale(.8)">
            <VerdictShape standing={standing} />
          </g>
        </>
      }
    >
      {children}
    </LegendItem>
  );
}

function Legend({ unseen }: { readonly unseen: readonly (readonly [title: string, reason: string])[] }) {
  return (
    <>
      <LegendItem
        width={22}
        mark={
          <>
            <rect className="bar legend-bar" y="2" width="18" height="8" />
            <path className="whisker" d="M10 6h11m0 -3v6m-11 -6v6" />
          </>
        }
      >
        cause with its interval
      </LegendItem>
      <LegendItem width={12} mark={<path className="allocation" d="M6 0v12m-4 0h8m-8 -12h8" />}>
        allocated
      </LegendItem>
      <AgainstItem against="over">over its allocation</AgainstItem>
      <AgainstItem against="uncertain">over it, uncertain</AgainstItem>
      <LegendItem
        width={18}
        height={10}
        className="cause-row noise"
        mark={<rect className="bar" x="0.5" y="1" width="17" height="8" />}
      >
        not distinguishable from scatter
      </LegendItem>
      {unseen.length > 0 && (
        <span className="unseen-reasons">
          {unseen.map(([title, reason]) => `${title}: ${reason}`).join(' ')}
        </span>
      )}
    </>
  );
}
