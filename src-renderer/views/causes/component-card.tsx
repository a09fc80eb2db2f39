import type { KeyboardEvent } from 'react';
import type { Component, Diagnosis, Parameter } from '../../../shared-math/diagnosis/findings.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { ChartPanel } from '../../chart/chart-panel.tsx';
import { exportNumber, formatWithUnit, plainUnit, type Units } from '../../format/format.ts';
import { fileStem } from '../../parts/download.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { vectorOf } from './effects.ts';
import {
  componentWords,
  freedomText,
  intervalText,
  parameterFigure,
  parametersSheet,
  parameterUnit,
  probabilityText,
  shareText,
  standingOf,
  standingWords,
} from './rows.ts';
import { StationEffect, stationEffects } from './station-effect.tsx';

interface ComponentCardProps {
  readonly disc: ReducedDisc;
  readonly diagnosis: Diagnosis;
  readonly component: Component;
  readonly units: Units;
  readonly selected: number | null;
  readonly onSelect: (station: number) => void;
  readonly onKey: (event: KeyboardEvent) => void;
}

/** All that is known of one component: its parameters, its test, its readings, its effect on each station. */
export function ComponentCard(props: ComponentCardProps) {
  const { diagnosis, component, units } = props;
  const notes = diagnosis.confounded.filter(({ between }) => between.includes(component.name));
  const coverage = Math.round(100 * diagnosis.coverage);
  return (
    <section className="component-card panel" aria-label={component.title}>
      <header>
        <h2 aria-live="polite">{component.title}</h2>
        <StandingChip component={component} leading={diagnosis.leading === component.name} />
      </header>
      <div className="component-body">
        <p className="component-sentence">{componentWords(component, units)}</p>
        {component.size !== null && (
          <dl className="component-facts">
            <div>
              <dt
                className="caption"
                title="Twice the largest displacement of a check point that it causes alone"
              >
                2·|δ|, {coverage} % interval
              </dt>
              <dd>
                <b>{formatWithUnit(component.size.value, 'size', units)}</b>
                <small>{intervalText(component.size, 'size', units)}</small>
              </dd>
            </div>
            {component.at !== null && (
              <div>
                <dt className="caption">Largest at</dt>
                <dd>
                  <button
                    type="button"
                    className="link"
                    onClick={() => props.onSelect(component.at?.station ?? 0)}
                  >
                    station {component.at.station}
                  </button>
                  <small>{component.at.checkPoint}</small>
                </dd>
              </div>
            )}
            {component.consumed !== null && (
              <div>
                <dt
                  className="caption"
                  title="Largest position in the zones of the plan that it causes alone"
                >
                  Position used up
                </dt>
                <dd>{formatWithUnit(component.consumed, 'size', units)}</dd>
              </div>
            )}
            {component.rms !== null && (
              <div>
                <dt className="caption">2·|δ|, r.m.s.</dt>
                <dd>{formatWithUnit(component.rms, 'size', units)}</dd>
              </div>
            )}
            <div>
              <dt className="caption">Share of squares</dt>
              <dd>
                {shareText(component.share)}
                <small>
                  {component.dimensions} dimension{component.dimensions === 1 ? '' : 's'}
                </small>
              </dd>
            </div>
            {component.test !== null && (
              <div>
                <dt className="caption">Test against scatter</dt>
                <dd>
                  F({component.test.numerator}, {freedomText(component.test.denominator)}) ={' '}
                  {component.test.statistic.toPrecision(3)}
                  <small title="Adjusted for all components tested (false discovery rate)">
                    p {probabilityText(component.test.probability)}, adjusted{' '}
                    {probabilityText(component.test.adjusted)}
                  </small>
                </dd>
              </div>
            )}
          </dl>
        )}
        {notes.map(({ words }) => (
          <p key={words} className="confounding">
            {words}
          </p>
        ))}
        {component.parameters.length + component.readings.length > 0 && (
          <div className="parameter-tools">
            <p className="caption">Parameters</p>
            <span className="chart-tools">
              <SheetTools
                key={component.name}
                sheet={parametersSheet(component, units)}
                fileName={`${fileStem(props.disc.plan.title)}-${component.name}-parameters`}
                of={`the parameters of ${component.title}`}
              />
            </span>
          </div>
        )}
        {component.readings.length > 0 && (
          <div className="cause-readings">
            {component.readings.map((reading, index) => (
              <div key={reading.cause} className="cause-reading">
                <p>
                  <span className="caption">{index === 0 ? 'Either' : 'Or'}</span> <b>{reading.cause}</b>
                </p>
                <p>
                  <span className="caption">Then</span> {reading.remedy}
                </p>
                <ParameterTable parameters={reading.parameters} units={units} />
              </div>
            ))}
          </div>
        )}
        {component.parameters.length > 0 && (
          <ParameterTable parameters={component.parameters} units={units} />
        )}
        {component.stations.length > 0 && <Effect {...props} />}
      </div>
    </section>
  );
}

function StandingChip({ component, leading }: { readonly component: Component; readonly leading: boolean }) {
  const standing = standingOf(component);
  if (standing !== 'cause') return <span className="chip muted">{standingWords[standing]}</span>;
  return (
    <span className={`chip ${leading ? 'lead' : ''}`}>{leading ? 'leading cause' : standingWords.cause}</span>
  );
}

function ParameterTable(props: { readonly parameters: readonly Parameter[]; readonly units: Units }) {
  const { parameters, units } = props;
  if (parameters.length === 0) return null;
  return (
    <table className="parameters">
      <tbody>
        {parameters.map((parameter) => (
          <tr key={`${parameter.key} ${parameter.of}`}>
            <th scope="row">
              {parameter.name}
              {parameter.of !== null && <small>{parameter.of}</small>}
            </th>
            <td className="number">
              <b>{parameterFigure(parameter.value, parameter, units)}</b>
            </td>
            <td className="interval">
              {parameterFigure(parameter.low, parameter, units)} to{' '}
              {parameterFigure(parameter.high, parameter, units)}
            </td>
            <td className="unit">{parameterUnit(parameter, units)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Effect(props: ComponentCardProps) {
  const { disc, component, units, selected, onSelect, onKey } = props;
  const bars = stationEffects(disc, component);
  const measured = new Map(disc.result.stations.map((entry) => [entry.station, vectorOf(entry.error)]));
  const unit = plainUnit('size', units);
  return (
    <ChartPanel
      className="effect-panel"
      title="Effect by station"
      label={`Displacement that ${component.title} causes alone, by station. Arrow keys move the selection.`}
      onKey={onKey}
      fileName={`${fileStem(disc.plan.title)}-${component.name}-by-station`}
      pictureTitle={`${disc.plan.title}: ${component.title}, effect by station`}
      sheet={{
        head: [
          'station',
          `2|d| caused alone (${unit})`,
          `position caused alone (${unit})`,
          'at',
          'all six errors observed',
        ],
        rows: bars.map((bar) => [
          String(bar.station),
          exportNumber(bar.size, 'size', units),
          exportNumber(bar.position, 'size', units),
          bar.at,
          measured.get(bar.station) == null ? 'no' : 'yes',
        ]),
      }}
    >
      {(width, height) => (
        <StationEffect
          disc={disc}
          component={component}
          units={units}
          selected={selected}
          onSelect={onSelect}
          width={width}
          height={height}
        />
      )}
    </ChartPanel>
  );
}
