import type { CorrectionKind } from '../../../shared-math/diagnosis/corrections/correction.ts';
import { objectionsTo } from '../../../shared-math/diagnosis/corrections/objections.ts';
import { withCorrection } from '../../../shared-math/what-if/state.ts';
import { ChartPanel } from '../../chart/chart-panel.tsx';
import { chooseByKey } from '../../chart/choose-by-key.ts';
import { LegendItem } from '../../chart/legend-item.tsx';
import { fileStem } from '../../parts/download.ts';
import { useKept } from '../../state/kept.ts';
import { evaluatedWords } from '../causes/evaluated.ts';
import type { DiagnosisProps } from '../causes/topics.ts';
import { changed, type History, measuredHistory } from '../what-if/history.ts';
import { CorrectionCard } from './correction-card.tsx';
import { CorrectionsChart, spokenCorrection } from './corrections-chart.tsx';
import { correctionsSheet } from './sheets.ts';
import './corrections.css';

/** What to set differently before the next disc, and what it would bring. */
export function CorrectionsView(props: DiagnosisProps) {
  const { disc, diagnosis, units, selected, onSelect, onWorkspace } = props;
  const { corrections } = diagnosis;
  // What is not recommended is shown, but never put forward.
  const first =
    corrections.find((entry) => objectionsTo(entry, corrections, disc.result.stations).length === 0) ??
    corrections[0];
  const [kind, setKind] = useKept<CorrectionKind | null>(disc, 'correction', first?.kind ?? null);
  const [, setHistory] = useKept<History>(disc, 'what-if', measuredHistory);
  const chosen = corrections.find((entry) => entry.kind === kind) ?? first;
  if (chosen === undefined)
    return (
      <section className="no-diagnosis panel" aria-label="Corrections">
        <h2>Nothing can be corrected</h2>
        <p>The plan lists nothing that can be adjusted, or no station has all six errors observed.</p>
      </section>
    );
  const evaluated = evaluatedWords(
    disc,
    chosen.predicted.map(({ station }) => station),
  );
  return (
    <div className="corrections">
      <ChartPanel
        title="Corrections for the next disc"
        caption="settings that make the largest position smallest: they take up parts of several causes"
        label={`${corrections.map((entry) => spokenCorrection(entry, disc, units)).join('. ')}. Up and Down choose one.`}
        onKey={(event) =>
          chooseByKey(
            event,
            corrections.map((entry) => entry.kind),
            chosen.kind,
            setKind,
          )
        }
        sheet={correctionsSheet(corrections, units)}
        fileName={`${fileStem(disc.plan.title)}-corrections`}
        pictureTitle={`${disc.plan.title}: predicted by correction, not measured`}
        foot={
          <>
            <LegendItem width={12} mark={<circle className="before" cx="6" cy="6" r="4.5" />}>
              as measured
            </LegendItem>
            <LegendItem
              width={24}
              mark={
                <>
                  <path className="whisker" d="M1 6H21m0 -4v8m-20 -8v8" />
                  <circle className="after" cx="11" cy="6" r="5" />
                </>
              }
            >
              predicted, with its interval from the measurement
            </LegendItem>
            <LegendItem width={12} mark={<path className="next-disc" d="M6 11l5 -8h-10z" />}>
              expected on the next disc, with fresh scatter
            </LegendItem>
            {evaluated !== null && <span>{evaluated}</span>}
          </>
        }
      >
        {(width, height) => (
          <CorrectionsChart
            corrections={corrections}
            disc={disc}
            tolerance={diagnosis.budget.tolerance}
            units={units}
            chosen={chosen.kind}
            onChoose={setKind}
            width={width}
            height={height}
          />
        )}
      </ChartPanel>
      <CorrectionCard
        key={chosen.kind}
        correction={chosen}
        disc={disc}
        units={units}
        selected={selected}
        onSelect={onSelect}
        onTry={() => {
          setHistory((now) =>
            changed(now, { ...now.present, settings: withCorrection(now.present.settings, chosen) }),
          );
          onWorkspace('what-if');
        }}
      />
    </div>
  );
}
