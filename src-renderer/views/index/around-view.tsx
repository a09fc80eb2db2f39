import type { HarmonicChannel } from '../../../shared-math/diagnosis/findings.ts';
import { ChartPanel } from '../../chart/chart-panel.tsx';
import { LegendItem } from '../../chart/legend-item.tsx';
import { formatWithUnit } from '../../format/format.ts';
import { fileStem } from '../../parts/download.ts';
import { Segmented } from '../../parts/segmented.tsx';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { useLasting } from '../../state/kept.ts';
import type { DiagnosisProps } from '../causes/topics.ts';
import { channelKind, channels, harmonicsSheet, indexSheet } from './channels.ts';
import { HarmonicsChart } from './harmonics-chart.tsx';
import { IndexRing } from './index-ring.tsx';
import { IndexUnrolled } from './index-unrolled.tsx';
import { PitchChart } from './pitch-chart.tsx';
import { Repeatability, repeatabilitySheet } from './repeatability.tsx';
import './index.css';

type IndexShape = 'ring' | 'line' | 'pitch';

/** What repeats around the disc: the index and the harmonics of every displacement and rotation. */
export function AroundView(props: DiagnosisProps) {
  const { disc, diagnosis, units, selected, marked, onSelect, onKey } = props;
  const { index, harmonics } = diagnosis;
  const outliers = diagnosis.outliers.map(({ station }) => station);
  const [shape, setShape] = useLasting<IndexShape>('index-shape', 'ring');
  const [channel, setChannel] = useLasting<HarmonicChannel>('harmonics-channel', 'index');
  const shown = harmonics.filter((entry) => entry.channel === channel);
  const stem = fileStem(disc.plan.title);
  const title = channels.find(([name]) => name === channel)?.[2] ?? channel;
  const significant = shown.filter((entry) => entry.significant);
  const aliased = shown.filter((entry) => entry.aliases.length > 0);
  return (
    <div className="around">
      <ChartPanel
        title={shape === 'pitch' ? 'Pitch deviations' : 'Index deviation'}
        caption={
          shape === 'pitch'
            ? 'single, and added up from the first station'
            : 'about the disc axis, after the causes before it'
        }
        controls={
          <Segmented
            title="Shape of the index chart"
            value={shape}
            onChange={setShape}
            choices={[
              ['ring', 'Ring', 'Around the disc'],
              ['line', 'Unrolled', 'Unrolled by angle'],
              ['pitch', 'Pitch', 'Pitch deviations'],
            ]}
          />
        }
        label={indexLabel()}
        onKey={onKey}
        sheet={indexSheet(index, units)}
        fileName={`${stem}-index-${shape}`}
        pictureTitle={`${disc.plan.title}: ${shape === 'pitch' ? 'pitch deviations' : 'index deviation'}`}
        foot={
          <>
            {shape === 'pitch' ? (
              <>
                <LegendItem width={12} mark={<rect className="bar" x="2" y="1" width="7" height="10" />}>
                  single pitch, to the next station
                </LegendItem>
                <LegendItem
                  width={20}
                  mark={
                    <>
                      <path className="pitch-sum" d="M0 6h18" />
                      <rect className="pitch-mark" x="5.5" y="2.5" width="7" height="7" />
                    </>
                  }
                >
                  cumulative pitch
                </LegendItem>
              </>
            ) : (
              <>
                <LegendItem
                  width={16}
                  mark={
                    <>
                      <path className="whisker" d="M7 0v12" />
                      <circle className="dot" cx="7" cy="6" r="4" />
                    </>
                  }
                >
                  deviation with its interval
                </LegendItem>
                {outliers.length > 0 && (
                  <LegendItem width={14} mark={<path className="outlying" d="M6 0l6 6l-6 6l-6 -6Z" />}>
                    outlying station
                  </LegendItem>
                )}
                {harmonics.some((entry) => entry.channel === 'index' && entry.significant) && (
                  <LegendItem width={20} mark={<path className="harmonic-curve" d="M0 9q5 -9 10 -3t10 -2" />}>
                    significant harmonics
                  </LegendItem>
                )}
              </>
            )}
            <span className="index-facts-line">
              {index.singlePitch !== null && (
                <>
                  largest single pitch <b>{formatWithUnit(index.singlePitch, 'size', units)}</b>
                </>
              )}
              {index.totalCumulativePitch !== null && (
                <>
                  , total cumulative pitch <b>{formatWithUnit(index.totalCumulativePitch, 'size', units)}</b>
                </>
              )}
            </span>
          </>
        }
      >
        {(width, height) =>
          shape === 'ring' ? (
            <IndexRing
              {...{ index, harmonics, outliers, units, selected, marked, onSelect, width, height }}
            />
          ) : shape === 'line' ? (
            <IndexUnrolled
              {...{ index, harmonics, outliers, units, selected, marked, onSelect, width, height }}
            />
          ) : (
            <PitchChart {...{ index, units, selected, onSelect, width, height }} />
          )
        }
      </ChartPanel>
      <div className="around-side">
        <ChartPanel
          title="Harmonics"
          caption={title}
          label={`Amplitudes of ${title} by order. ${
            significant.length === 0
              ? 'None stands out of scatter.'
              : `Significant: ${significant
                  .map(
                    ({ order, amplitude }) =>
                      `order ${order}, ${formatWithUnit(amplitude.value, channelKind(channel), units)}`,
                  )
                  .join('; ')}.`
          }`}
          sheet={harmonicsSheet(harmonics, units)}
          fileName={`${stem}-harmonics-${channel}`}
          pictureTitle={`${disc.plan.title}: harmonics, ${title.toLowerCase()}`}
          foot={
            <>
              <LegendItem
                width={16}
                mark={
                  <>
                    <rect className="floor" width="14" height="12" />
                    <path className="floor-edge" d="M0 1h14" />
                  </>
                }
              >
                reached by scatter alone
              </LegendItem>
              <span>
                {significant.length === 0
                  ? 'no order stands out of scatter'
                  : `order ${significant.map(({ order }) => order).join(', ')} stands out of scatter`}
              </span>
              {aliased.length > 0 && (
                <span>
                  not to be told apart:{' '}
                  {aliased.map(({ order, aliases }) => `${order} from ${aliases.join(', ')}`).join('; ')}
                </span>
              )}
            </>
          }
        >
          {(width, height) => (
            <HarmonicsChart harmonics={shown} units={units} width={width} height={height} />
          )}
        </ChartPanel>
        <div className="channel-rail panel">
          <Segmented title="Harmonics of" value={channel} onChange={setChannel} choices={channels} />
        </div>
        {index.repeatability !== null && (
          <section className="repeatability panel" aria-label="Repeatability of the index">
            <header>
              <h2>Repeatability of the index, {index.repeatability.runs} runs</h2>
              <span className="chart-tools">
                <SheetTools
                  sheet={repeatabilitySheet(index.repeatability, units)}
                  fileName={`${stem}-index-repeatability`}
                  of="the repeatability of the index"
                />
              </span>
            </header>
            <Repeatability of={index.repeatability} units={units} />
          </section>
        )}
      </div>
    </div>
  );

  function indexLabel(): string {
    const largest = [...index.stations].sort(
      (a, b) => Math.abs(b.deviation.value) - Math.abs(a.deviation.value),
    )[0];
    return `Index deviation of ${index.stations.length} stations. ${
      largest === undefined
        ? ''
        : `Largest: station ${largest.station}, ${formatWithUnit(largest.deviation.value, 'rotation', units)}. `
    }Arrow keys move the selection.`;
  }
}
