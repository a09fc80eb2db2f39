import { type KeyboardEvent, useMemo, useRef } from 'react';
import { countOf, formatCount, standingText } from '../../format/format.ts';
import { downloadAddress, fileStem } from '../../parts/download.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { Plot, type PlotHandle } from '../../plot/plot.tsx';
import { readPlotColours } from '../../plot/plot-colours.ts';
import { canDraw3d } from '../../plot/plotly-3d.ts';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';
import type { FeatureName } from '../../state/exclusions.ts';
import { useKept } from '../../state/kept.ts';
import { ColourBar } from '../features/colour-bar.tsx';
import { useDiscPoints } from '../features/use-feature-points.ts';
import { at, type Camera, cameraKey, cameraMoved, edgeOn, fromZ, oblique } from './camera.ts';
import { bladeFrames, fittingMagnification } from './frames.ts';
import { type ScenePick, sceneData, scenePoints, sceneRange } from './scene-data.ts';
import { inScene, sceneBox, sceneLayout } from './scene-layout.ts';
import { SceneTable } from './scene-table.tsx';
import { SceneTools } from './scene-tools.tsx';
import './scene.css';

interface SceneViewProps extends DiscWorkspaceProps {
  /** Line of the chosen point. */
  readonly chosen: number | null;
  readonly onPoint: (name: FeatureName, line: number) => void;
  readonly onResiduals: () => void;
}

/** More points would make turning slow without showing more. */
const MOST_POINTS = 12_000;

let drawable: boolean | null = null;
const canDraw = (): boolean => {
  drawable ??= canDraw3d();
  return drawable;
};

/** Hub and blades in three dimensions, with a table that says the same. */
export default function SceneView(props: SceneViewProps) {
  const { api, disc, session, units, dark, selected, onSelect, marked, chosen, onPoint, onStep } = props;
  const asked = useDiscPoints(api, session.job, MOST_POINTS);
  const plot = useRef<PlotHandle>(null);
  const [camera, setCamera] = useKept<Camera>(disc, 'scene-camera', oblique);
  const [wanted, setWanted] = useKept<number | null>(disc, 'scene-magnification', null);
  const points = useMemo(() => (asked.value === null ? [] : scenePoints(asked.value)), [asked.value]);
  const range = useMemo(() => sceneRange(points), [points]);
  const frames = useMemo(() => bladeFrames(disc.result.stations), [disc]);
  const fitting = useMemo(() => fittingMagnification(frames), [frames]);
  const magnification = wanted ?? fitting;
  const box = useMemo(() => sceneBox(points, frames), [points, frames]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the colours change with the theme, which `dark` tells.
  const colours = useMemo(readPlotColours, [dark]);
  const data = useMemo(
    () => sceneData({ points, range, frames, magnification, selected, marked, chosen, units, colours, dark }),
    [points, range, frames, magnification, selected, marked, chosen, units, colours, dark],
  );
  const layout = useMemo(
    () => sceneLayout(box, camera, colours, 'Plex, Liberation Sans, sans-serif', units),
    [box, camera, colours, units],
  );
  // Marks that are drawn have their words below.
  const ends = (['nonconforming', 'unproven'] as const).filter((verdict) =>
    frames.some((frame) => frame.verdict === verdict),
  );
  const own = frames.find(({ station }) => station === selected);
  const atStation = (): void => {
    if (own !== undefined) setCamera(at(inScene(box, own.origin.at)));
  };

  function onKey(event: KeyboardEvent) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.target !== event.currentTarget) return;
    const move = cameraKey(event.key);
    if (move !== null) setCamera(move);
    else if (event.key === 'PageDown' || event.key === 'PageUp') onStep(event.key === 'PageDown' ? 1 : -1);
    else if (event.key === 'Enter') atStation();
    else return;
    event.preventDefault();
  }

  function pick(what: unknown) {
    const picked = what as ScenePick | null | undefined;
    if (picked == null) return;
    if (picked.kind === 'station') onSelect(picked.station);
    else onPoint(picked.name, picked.line);
  }

  async function save() {
    const address = await plot.current?.picture('png');
    if (address !== undefined) downloadAddress(`${fileStem(disc.plan.title)}-3d.png`, address);
  }

  const shown =
    asked.value === null
      ? 'reading the points'
      : asked.value.shown < asked.value.total
        ? `${formatCount(asked.value.shown)} of ${countOf(asked.value.total, 'point')}`
        : countOf(asked.value.total, 'point');
  const times = formatCount(magnification);
  return (
    <div className="scene">
      <section className="scene-panel panel" aria-label="Hub and blades in three dimensions">
        <header className="chart-head">
          <div className="chart-title">
            <h2>Hub and blades</h2>
            <p className="caption">
              {shown}, coloured by residual; blade frames displaced by their errors ×{times}
            </p>
          </div>
          <SceneTools
            magnification={magnification}
            fitting={fitting}
            onMagnification={setWanted}
            onCamera={setCamera}
            onStation={own === undefined ? null : atStation}
            views={[
              ['Oblique', oblique],
              ['From +Z', fromZ],
              ['Edge on', edgeOn],
            ]}
            onSave={() => void save()}
          />
        </header>
        <figure
          className="scene-figure"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: the arrow keys turn the disc here.
          tabIndex={0}
          onKeyDown={onKey}
          aria-label={`Hub and ${countOf(frames.length, 'blade')} in three dimensions, displacements ×${times}. Arrow keys turn the disc, plus and minus come nearer and go farther, Page Up and Page Down change the station, Enter looks at it. The table beside says the same in figures.`}
        >
          {canDraw() ? (
            <Plot
              data={data}
              layout={layout}
              handle={plot}
              pictureTitle={`${disc.plan.title}: displacements ×${times}`}
              pictureGround={colours.surface}
              onPick={pick}
              onMoved={(change) => {
                const next = cameraMoved(change);
                if (next !== null) setCamera(next);
              }}
            />
          ) : (
            <p className="no-3d">
              This window cannot draw in three dimensions (WebGL is switched off or missing). The table says
              the same in figures.
            </p>
          )}
        </figure>
        <div className="chart-foot">
          <ColourBar range={range} dark={dark} units={units} />
          <span>
            <span className="hollow-mark" aria-hidden="true" /> not used
          </span>
          <span>
            <svg width="22" height="8" aria-hidden="true">
              <path d="M0 4H22" stroke="var(--ink-2)" strokeWidth="1.5" />
            </svg>
            nominal frame
          </span>
          <span>
            <svg width="22" height="8" aria-hidden="true">
              <path d="M0 4H22" stroke="var(--brass)" strokeWidth="3" />
            </svg>
            displaced ×{times}
          </span>
          <span>
            <svg width="22" height="8" aria-hidden="true">
              <path d="M0 4H22" stroke="var(--ink)" strokeWidth="5" />
            </svg>
            selected
          </span>
          {ends.map((verdict) => (
            <span key={verdict}>
              <VerdictMark standing={verdict} /> at its end: {standingText[verdict]}
            </span>
          ))}
          {asked.problems.map(({ code, message }) => (
            <span key={code} role="status">
              {message}
            </span>
          ))}
        </div>
      </section>
      <SceneTable
        disc={disc}
        points={points}
        units={units}
        selected={selected}
        marked={marked}
        onSelect={onSelect}
        onPoint={(name, line) => {
          onPoint(name, line);
          props.onResiduals();
        }}
      />
    </div>
  );
}
