import { type ReactNode, useState } from 'react';
import { conformingAfter } from '../../../shared-math/diagnosis/corrections/conforming-after.ts';
import type { Correction } from '../../../shared-math/diagnosis/corrections/correction.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import {
  formatProbability,
  formatValue,
  formatWithUnit,
  type Units,
  unitSymbol,
  unitWord,
} from '../../format/format.ts';
import { inUnits } from '../../format/sentence.ts';
import { fileStem } from '../../parts/download.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { evaluatedWords } from '../causes/evaluated.ts';
import { predictedSheet, settingKind, settingName, settingNote, settingsSheet } from './sheets.ts';

interface CorrectionCardProps {
  readonly correction: Correction;
  readonly disc: ReducedDisc;
  readonly units: Units;
  readonly selected: number | null;
  readonly onSelect: (station: number) => void;
  readonly onTry: () => void;
}

/** Why a gain is not to be trusted: smaller than what scatter offers, or not coming back. */
function noiseWords({ before, after, noiseGain, next }: Correction, units: Units): string {
  const gain = before - after;
  if (noiseGain !== null && gain <= noiseGain)
    return `Its gain of ${formatWithUnit(Math.max(0, gain), 'size', units)} is inside what scatter alone would offer (${formatWithUnit(noiseGain, 'size', units)}).`;
  const recurring = next === null ? 0 : Math.max(0, next.unchanged.expected - next.corrected.expected);
  return `Of its gain of ${formatWithUnit(gain, 'size', units)} on this disc, ${formatWithUnit(recurring, 'size', units)} can be expected on the next one; the rest is fitted to scatter, or a simpler correction does as well.`;
}

/** One correction: what to set, what it would bring, and whether it is worth it. */
export function CorrectionCard(props: CorrectionCardProps) {
  const { correction, disc, units, onTry } = props;
  const [table, setTable] = useState<'settings' | 'stations'>('settings');
  const stem = `${fileStem(disc.plan.title)}-correction-${correction.kind}`;
  const { interval, next } = correction;
  const evaluated = evaluatedWords(
    disc,
    correction.predicted.map(({ station }) => station),
  );
  return (
    <section className="correction-card panel" aria-label={correction.title}>
      <header>
        <h2>{correction.title}</h2>
        <button type="button" className="button strong" onClick={onTry}>
          Try in What if
        </button>
      </header>
      <div className="correction-words">
        <p className="component-sentence">{inUnits(correction.sentence, correction.figures, units)}</p>
        {evaluated !== null && <p className="evaluated">{evaluated}.</p>}
        {correction.chasesNoise && (
          <p className="noise-warning">
            <b>This chases noise.</b> {noiseWords(correction, units)}
          </p>
        )}
        <dl className="component-facts">
          <Fact title="Worst position">
            <b>
              {formatValue(correction.before, 'size', units)} → {formatValue(correction.after, 'size', units)}
            </b>
            <small>
              {unitWord('size', units)}; interval {formatValue(interval.low, 'size', units)} to{' '}
              {formatValue(interval.high, 'size', units)}
            </small>
          </Fact>
          {next !== null && (
            <Fact title="Next disc, fresh scatter">
              <b>
                {formatValue(next.unchanged.expected, 'size', units)} →{' '}
                {formatValue(next.corrected.expected, 'size', units)}
              </b>
              <small>
                {unitWord('size', units)}; {formatValue(next.corrected.low, 'size', units)} to{' '}
                {formatValue(next.corrected.high, 'size', units)}
              </small>
            </Fact>
          )}
          <Fact title="Would conform">
            <b>{conformingAfter(correction, disc.result.stations)}</b> of {disc.result.summary.stations}
            <small>
              {correction.nonconforming} not, {correction.unproven} unproven
            </small>
          </Fact>
          <Fact title="Without rounding">
            {formatWithUnit(correction.optimum, 'size', units)}
            <small title="Proven: no setting within the bounds does better by more than this">
              {gapWords(correction.gap, units)}
            </small>
          </Fact>
        </dl>
        {correction.leftOut.length > 0 && (
          <p className="confounding">
            Left out of the optimisation as outlying, still predicted: station {correction.leftOut.join(', ')}
            .
          </p>
        )}
      </div>
      <div className="correction-table">
        <div className="table-tabs">
          {(
            [
              ['settings', `Settings (${correction.settings.length})`],
              ['stations', `Predicted stations (${correction.predicted.length})`],
            ] as const
          ).map(([name, title]) => (
            <button
              key={name}
              type="button"
              className="table-tab"
              aria-pressed={table === name}
              onClick={() => setTable(name)}
            >
              {title}
            </button>
          ))}
          <span className="chart-tools">
            {table === 'settings' ? (
              <SheetTools
                key="settings"
                sheet={settingsSheet(correction, units)}
                fileName={`${stem}-settings`}
                of="the settings"
              />
            ) : (
              <SheetTools
                key="stations"
                sheet={predictedSheet(correction, disc, units)}
                fileName={`${stem}-predicted-stations`}
                of="the predicted stations"
              />
            )}
          </span>
        </div>
        <div className="sheet-scroll">
          {table === 'settings' ? <SettingsTable {...props} /> : <PredictedTable {...props} />}
        </div>
      </div>
    </section>
  );
}

function Fact({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <div>
      <dt className="caption">{title}</dt>
      <dd>{children}</dd>
    </div>
  );
}

function SettingsTable({ correction, units }: CorrectionCardProps) {
  return (
    <table className="plain-table settings-table">
      <thead>
        <tr>
          <th scope="col">Setting</th>
          <th scope="col" className="number">
            Error found
          </th>
          <th scope="col" className="number">
            Setting change
          </th>
          <th scope="col">Unit</th>
          <th scope="col">Note</th>
        </tr>
      </thead>
      <tbody>
        {correction.settings.map((setting) => {
          const kind = settingKind(setting);
          const figure = (value: number): string => formatValue(value, kind, units);
          return (
            <tr
              key={`${setting.kind} ${setting.freedom} ${setting.of}`}
              className={setting.change === 0 ? 'muted' : ''}
            >
              <th scope="row">{settingName(setting)}</th>
              <td className="number">{figure(setting.found)}</td>
              <td className="number change">{figure(setting.change)}</td>
              <td className="interval">{unitSymbol(kind, units)}</td>
              <td className="interval">{settingNote(setting, (value) => figure(value).replace('+', ''))}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function PredictedTable({ correction, disc, units, selected, onSelect }: CorrectionCardProps) {
  const measured = new Map(disc.result.stations.map((entry) => [entry.station, entry]));
  return (
    <table className="plain-table predicted-table">
      <thead>
        <tr>
          <th scope="col" className="number">
            St
          </th>
          <th scope="col" className="number">
            Measured
          </th>
          <th scope="col" className="number">
            Predicted
          </th>
          <th scope="col" className="number">
            + U
          </th>
          <th scope="col" className="number">
            P, %
          </th>
          <th scope="col">Verdict, measured → predicted</th>
        </tr>
      </thead>
      <tbody>
        {correction.predicted.map((entry) => {
          const before = measured.get(entry.station);
          const size = (value: number | null | undefined): string =>
            value == null ? '–' : formatValue(value, 'size', units);
          return (
            <tr key={entry.station} data-station={entry.station} aria-current={entry.station === selected}>
              <th scope="row" className="number">
                <button type="button" className="link" onClick={() => onSelect(entry.station)}>
                  {entry.station}
                </button>
              </th>
              <td className="number">{size(before?.position.value)}</td>
              <td className="number change">{size(entry.position)}</td>
              <td className="number">{size(entry.expanded)}</td>
              <td className="number">
                {entry.probability === null ? '–' : formatProbability(entry.probability)}
              </td>
              <td>
                <span className="standing">
                  {before !== undefined && <VerdictMark standing={before.verdict} />}→
                  <VerdictMark standing={entry.verdict} />
                  {entry.verdict}
                </span>
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** How far from the smallest possible the optimum can be, in the unit and the digits that it is shown in. */
function gapWords(gap: number, units: Units): string {
  const text = formatWithUnit(gap, 'size', units);
  return Number.parseFloat(text) === 0 ? 'the best, to every digit shown' : `at most ${text} from the best`;
}
