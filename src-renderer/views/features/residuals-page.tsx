import { type KeyboardEvent, useMemo } from 'react';
import type { Association } from '../../../shared-math/definition.ts';
import type { FeaturePoints } from '../../../src-main/api.ts';
import { ChartPanel } from '../../chart/chart-panel.tsx';
import { countOf, formatCount, formatWithUnit, type Units } from '../../format/format.ts';
import { fileStem } from '../../parts/download.ts';
import { Segmented } from '../../parts/segmented.tsx';
import type { FeatureName } from '../../state/exclusions.ts';
import { ColourBar } from './colour-bar.tsx';
import type { AxisNames } from './feature-names.ts';
import { FileOrder } from './file-order.tsx';
import { Histogram } from './histogram.tsx';
import { LargestTable } from './largest-table.tsx';
import {
  basisWords,
  byResidual,
  formName,
  isRound,
  originWords,
  placeOfFeature,
  pointsSheet,
  pointViews,
  residualRange,
  signWords,
  stepPoint,
} from './points.ts';
import { ResidualMap } from './residual-map.tsx';
import { RoundTrace } from './round-trace.tsx';

interface ResidualsPageProps {
  readonly feature: FeaturePoints;
  readonly axisNames: AxisNames;
  /** Criterion of the datum that the feature belongs to; null: not known. */
  readonly association: Association | null;
  readonly title: string;
  readonly units: Units;
  readonly dark: boolean;
  readonly chosen: number | null;
  readonly onChoose: (line: number) => void;
  readonly form: 'trace' | 'map';
  readonly onForm: (form: 'trace' | 'map') => void;
  readonly byHand: (line: number) => boolean;
  readonly onLeave: (lines: readonly number[]) => void;
  readonly onTakeBack: (line: number) => void;
  readonly onStep: (by: 1 | -1) => void;
}

const keysHelp =
  'Left and right arrow keys go through the points in file order, up and down by size, Delete leaves the point out, Page Up and Page Down change the station.';

/** Residuals of one feature: where they lie, how they are spread, in which order they came, which are largest. */
export function ResidualsPage(props: ResidualsPageProps) {
  const {
    feature,
    axisNames,
    title,
    units,
    dark,
    chosen,
    onChoose,
    form,
    onForm,
    byHand,
    onLeave,
    onTakeBack,
  } = props;
  const points = useMemo(() => pointViews(feature), [feature]);
  const inOrder = useMemo(() => byResidual(points), [points]);
  const range = useMemo(() => residualRange(points), [points]);
  const sheet = useMemo(
    () => pointsSheet(points, feature, axisNames, units),
    [points, feature, axisNames, units],
  );
  const point = points.find(({ line }) => line === chosen) ?? null;
  const name: FeatureName = feature;
  const where = placeOfFeature(name);
  const stem = `${fileStem(title)}-${feature.station === null ? 'hub' : `station-${feature.station}`}-${fileStem(feature.feature)}`;
  const round = isRound(feature.type);
  const leftOut = points.filter(({ reason }) => reason !== null).length;
  const formText = feature.form === null ? '–' : formatWithUnit(feature.form, 'size', units);
  const rmsText = feature.rms === null ? '–' : formatWithUnit(feature.rms, 'size', units);
  const facts = `${formName(feature.type)} ${formText}, r.m.s. ${rmsText}`;
  const count =
    points.length < feature.total
      ? `${formatCount(points.length)} of ${countOf(feature.total, 'point')} shown`
      : countOf(feature.total, 'point');

  function onKey(event: KeyboardEvent) {
    const { key } = event;
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    let next: number | null = null;
    if (key === 'ArrowRight' || key === 'ArrowLeft')
      next = stepPoint(points, chosen, key === 'ArrowRight' ? 1 : -1);
    else if (key === 'ArrowDown' || key === 'ArrowUp')
      next = stepPoint(inOrder, chosen, key === 'ArrowDown' ? 1 : -1);
    else if (key === 'Home' || key === 'End')
      next = stepPoint(points, chosen, key === 'Home' ? 'first' : 'last');
    else if (key === 'PageDown' || key === 'PageUp') props.onStep(key === 'PageDown' ? 1 : -1);
    else if (key === 'Delete' && point !== null) {
      if (point.reason === null) onLeave([point.line]);
      else if (byHand(point.line)) onTakeBack(point.line);
    } else return;
    event.preventDefault();
    if (next !== null) onChoose(next);
  }

  const chart = { feature, points, range, units, dark, chosen, onChoose };
  const panel = { sheet, onKey };
  const origin = originWords(feature.type);
  const asTrace = round && form === 'trace';
  return (
    <>
      <ChartPanel
        {...panel}
        className="feature-map"
        title={where}
        caption={`${feature.datum}, ${feature.type}, ${count}${leftOut > 0 ? `, ${formatCount(leftOut)} not used` : ''}`}
        controls={
          round && (
            <Segmented
              title="Drawing"
              value={form}
              onChange={onForm}
              choices={[
                ['trace', 'Trace', 'Amplified trace about the least-squares circle'],
                ['map', 'Unrolled', 'Unrolled: angle and height'],
              ]}
            />
          )
        }
        label={`Residuals of ${where}, ${facts}, ${count}. ${keysHelp}`}
        fileName={`${stem}-${asTrace ? 'trace' : 'map'}`}
        pictureTitle={`${title}: ${where}, ${facts}`}
        foot={
          <div className="map-foot">
            <p className="facts-line">
              {facts} <span>{basisWords(feature, props.association)}</span>
            </p>
            <div className="map-legend">
              <ColourBar range={range} dark={dark} units={units} />
              <span>{signWords(feature.type)}</span>
              {!asTrace && origin !== null && <span>{origin}</span>}
              {leftOut > 0 && (
                <span>
                  <span className="hollow-mark" aria-hidden="true" /> not used
                </span>
              )}
              {asTrace && <span>dashed: smallest and largest residual</span>}
            </div>
            <p className="chosen-line" aria-live="polite" data-testid="point-line">
              {point === null ? (
                'No point is chosen.'
              ) : (
                <>
                  <span>
                    <b>Line {point.line}</b>: {formatWithUnit(point.residual, 'length', units)}
                    {point.reason !== null && `, not used: ${point.reason}`}
                  </span>
                  {point.reason === null ? (
                    <button type="button" className="button" onClick={() => onLeave([point.line])}>
                      Leave out…
                    </button>
                  ) : (
                    byHand(point.line) && (
                      <button type="button" className="button" onClick={() => onTakeBack(point.line)}>
                        Take back
                      </button>
                    )
                  )}
                </>
              )}
            </p>
          </div>
        }
      >
        {(width, height) =>
          asTrace ? (
            <RoundTrace {...chart} width={width} height={height} />
          ) : (
            <ResidualMap {...chart} axisNames={axisNames} width={width} height={height} />
          )
        }
      </ChartPanel>
      <ChartPanel
        {...panel}
        title="Distribution"
        label={`Histogram of the residuals of ${where}. ${facts}.`}
        fileName={`${stem}-distribution`}
        pictureTitle={`${title}: ${where}, distribution of residuals`}
      >
        {(width, height) => <Histogram {...{ points, range, units, dark, chosen, width, height }} />}
      </ChartPanel>
      <ChartPanel
        {...panel}
        title="In file order"
        label={`Residuals of ${where} in the order of the file. ${keysHelp}`}
        fileName={`${stem}-file-order`}
        pictureTitle={`${title}: ${where}, residuals in file order`}
      >
        {(width, height) => <FileOrder {...chart} width={width} height={height} />}
      </ChartPanel>
      <LargestTable
        feature={feature}
        axisNames={axisNames}
        points={points}
        units={units}
        chosen={chosen}
        byHand={byHand}
        onChoose={onChoose}
        onLeave={(line) => onLeave([line])}
        onTakeBack={onTakeBack}
        sheet={sheet}
        fileName={`${stem}-residuals`}
      />
    </>
  );
}
