import { ChartPanel } from '../../chart/chart-panel.tsx';
import { LegendItem } from '../../chart/legend-item.tsx';
import { formatCount } from '../../format/format.ts';
import { fileStem } from '../../parts/download.ts';
import { componentOf, componentWords } from '../causes/rows.ts';
import type { DiagnosisProps } from '../causes/topics.ts';
import { sequencePanels, sequenceSheet } from './panels.ts';
import { SequenceChart } from './sequence-chart.tsx';
import './sequence.css';

/** Errors in the order in which the blades were welded: tool changes and wear. */
export function SequenceView(props: DiagnosisProps) {
  const { disc, diagnosis, units, selected, marked, onSelect, onKey, actions } = props;
  const { sequence } = diagnosis;
  if (sequence === null)
    return (
      <section className="no-welds panel" aria-label="Weld sequence">
        <svg viewBox="0 0 120 60" width="150" height="75" aria-hidden="true">
          <path className="no-welds-line" d="M6 44L58 24M64 40L114 16" />
          {[6, 19, 32, 45, 58, 64, 77, 90, 103, 114].map((x, index) => (
            <circle key={x} cx={x} cy={index < 5 ? 44 - 0.385 * (x - 6) : 40 - 0.48 * (x - 64)} r="3" />
          ))}
          <path className="no-welds-change" d="M61 4V56" />
        </svg>
        <div>
          <h2>Give a welds file to examine tool change and wear</h2>
          <p>
            Drop a CSV with the columns <b>sequence</b>, <b>station</b> and <b>tool</b> anywhere on this
            window. The points stay as they are.
          </p>
          <button type="button" className="button strong" onClick={actions.choose}>
            Choose the welds file
          </button>
        </div>
      </section>
    );
  const panels = sequencePanels(sequence, diagnosis.outliers);
  const change = componentOf(diagnosis, 'toolChange');
  const wear = componentOf(diagnosis, 'wear');
  const { weldsLeft } = sequence;
  const chosen = sequence.welds.find((weld) => weld.station === selected);
  return (
    <div className="sequence">
      <section className="sequence-words panel" aria-label="Tool change and wear">
        {[change, wear].map(
          (component) =>
            component !== null && (
              <div key={component.name}>
                <h2>{component.title}</h2>
                <p className={component.significant ? '' : 'muted'}>{componentWords(component, units)}</p>
              </div>
            ),
        )}
        <div className="welds-left">
          <h2>Welds left</h2>
          {weldsLeft === null ? (
            <p className="muted">Stated where wear is significant and the plan allocates it a line.</p>
          ) : weldsLeft.value < 1 ? (
            <p>
              <b>None</b>: wear alone already uses more than its line of the budget.
            </p>
          ) : (
            <p>
              <b>{formatCount(Math.floor(weldsLeft.value))}</b> until wear alone uses its line (
              {formatCount(Math.max(0, Math.floor(weldsLeft.low)))} to{' '}
              {weldsLeft.high === null ? 'unlimited' : formatCount(Math.floor(weldsLeft.high))})
            </p>
          )}
        </div>
      </section>
      <ChartPanel
        title="Errors against the weld sequence"
        caption="the other causes taken out; in the blade frame"
        label={`Six errors of ${sequence.welds.length} welds in their order, with ${sequence.changes.length} tool changes. Arrow keys move the selection along the ring.`}
        onKey={onKey}
        sheet={sequenceSheet(sequence, units)}
        fileName={`${fileStem(disc.plan.title)}-weld-sequence`}
        pictureTitle={`${disc.plan.title}: errors against the weld sequence`}
        foot={
          <>
            <LegendItem width={12} mark={<circle className="dot" cx="6" cy="6" r="4" />}>
              a weld
            </LegendItem>
            <LegendItem width={14} mark={<path className="outlying" d="M6 0l6 6l-6 6l-6 -6Z" />}>
              an outlying station, kept at the edge where it is beyond the scale
            </LegendItem>
            <LegendItem
              width={22}
              mark={
                <>
                  <path className="line-band" d="M0 1Q10 5 20 4V11Q10 8 0 9Z" />
                  <path className="wear-line" d="M0 5L20 8" />
                </>
              }
            >
              line of a tool, with the interval of its mean
            </LegendItem>
            <LegendItem width={8} mark={<path className="tool-change" d="M4 0V12" />}>
              tool change
            </LegendItem>
            {chosen !== undefined && (
              <span className="index-facts-line" role="status">
                station {chosen.station}: weld {chosen.sequence}, tool {chosen.tool}, after{' '}
                {formatCount(chosen.age)} welds
              </span>
            )}
          </>
        }
      >
        {(width, height) => (
          <SequenceChart {...{ sequence, panels, units, selected, marked, onSelect, width, height }} />
        )}
      </ChartPanel>
    </div>
  );
}
