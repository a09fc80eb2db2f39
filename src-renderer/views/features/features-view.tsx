import { lazy, Suspense, useMemo, useState } from 'react';
import { countOf, formatCount } from '../../format/format.ts';
import { Segmented } from '../../parts/segmented.tsx';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';
import {
  type Exclusions,
  exclusionCount,
  type FeatureName,
  reasonsGiven,
  sameFeature,
  withFeature,
  withoutFeature,
  withoutPoints,
  withPoints,
} from '../../state/exclusions.ts';
import { useKept } from '../../state/kept.ts';
import { ExcludeDialog, type Leaving } from '../exclusions/exclude-dialog.tsx';
import { ExclusionList } from '../exclusions/exclusion-list.tsx';
import { withRemedy } from '../problems/problems.tsx';
import { FeatureList } from './feature-list.tsx';
import { associationOf, featureAxisNames, featureOnView } from './feature-names.ts';
import { ResidualsPage } from './residuals-page.tsx';
import { useFeaturePoints } from './use-feature-points.ts';
import '../exclusions/exclusions.css';
import './features.css';

/** Loaded when it is asked for: its part of the plot library is the largest. */
const SceneView = lazy(() => import('../scene/scene-view.tsx'));

const NO_AXES = { u: '', v: '', direction: '' } as const;

type Page = 'residuals' | 'scene' | 'left-out';

interface Choice {
  readonly hub: boolean;
  readonly feature: string;
}

function leftOutWords({ points, features }: Exclusions): string {
  const parts = [
    ...(points.length > 0 ? [countOf(points.length, 'point')] : []),
    ...(features.length > 0 ? [countOf(features.length, 'feature')] : []),
  ];
  return parts.length === 0 ? 'nothing left out by hand' : `${parts.join(' and ')} left out by hand`;
}

/** Datum features and their points: residuals, the disc in three dimensions, and what is left out by hand. */
export function FeaturesView(props: DiscWorkspaceProps) {
  const { api, disc, session, actions, units, dark, selected, onSelect, onStep } = props;
  const [page, setPage] = useKept<Page>(disc, 'features-page', 'residuals');
  const [choice, setChoice] = useKept<Choice | null>(disc, 'features-choice', null);
  const [chosen, setChosen] = useKept<number | null>(disc, 'features-point', null);
  const [form, setForm] = useKept<'trace' | 'map'>(disc, 'features-form', 'trace');
  const [leaving, setLeaving] = useState<Leaving | null>(null);
  const current = useMemo(() => featureOnView(disc.definition, selected, choice), [disc, selected, choice]);
  const asked = useFeaturePoints(api, session.job, current);
  const feature = asked.value;
  const axisNames = useMemo(
    () => (feature === null ? NO_AXES : featureAxisNames(feature, disc.result)),
    [feature, disc],
  );
  const { present, past, future } = session.exclusions;
  const linesByHand = useMemo(() => new Set(present.points.map(({ line }) => line)), [present]);
  const count = exclusionCount(present);

  function choose(name: FeatureName) {
    if (name.station !== null) onSelect(name.station);
    setChoice({ hub: name.station === null, feature: name.feature });
  }

  function leaveOut(what: Leaving, reason: string) {
    setLeaving(null);
    actions.exclude((now) =>
      what.kind === 'points' ? withPoints(now, what.lines, reason) : withFeature(now, what.name, reason),
    );
  }

  return (
    <main className="features-view">
      <header className="topics">
        <Segmented
          title="Page"
          value={page}
          onChange={setPage}
          choices={[
            ['residuals', 'Residuals', 'Residuals of a feature'],
            ['scene', '3-D', 'Hub and blades in three dimensions'],
            ['left-out', `Left out (${formatCount(count)})`, 'What is left out by hand'],
          ]}
        />
        <p className="topics-note" role="status" data-testid="left-out-note">
          {leftOutWords(present)}
        </p>
        <span className="undo-tools">
          <button
            type="button"
            className="button"
            disabled={past.length === 0}
            aria-keyshortcuts="Control+Z"
            onClick={actions.undoExclusion}
          >
            Undo
          </button>
          <button
            type="button"
            className="button"
            disabled={future.length === 0}
            aria-keyshortcuts="Control+Y"
            onClick={actions.redoExclusion}
          >
            Redo
          </button>
          <button
            type="button"
            className="button"
            disabled={session.previous === null && session.reference === null}
            onClick={() => props.onWorkspace('compare')}
          >
            Compare
          </button>
        </span>
      </header>
      {page === 'left-out' && (
        <ExclusionList
          api={api}
          disc={disc}
          session={session}
          actions={actions}
          onShow={(name, line) => {
            choose(name);
            if (line !== null) setChosen(line);
            setPage('residuals');
          }}
        />
      )}
      {page === 'scene' && (
        <Suspense fallback={<p className="panel waiting">Loading the view …</p>}>
          <SceneView
            {...props}
            chosen={chosen}
            onPoint={(name, line) => {
              choose(name);
              setChosen(line);
            }}
            onResiduals={() => setPage('residuals')}
          />
        </Suspense>
      )}
      {page === 'residuals' && (
        <div className="residuals">
          <FeatureList
            disc={disc}
            exclusions={present}
            units={units}
            station={selected}
            current={current}
            onChoose={choose}
            onStep={onStep}
            onLeave={(name) =>
              setLeaving({
                kind: 'feature',
                name,
                count: feature !== null && sameFeature(feature, name) ? feature.total : null,
              })
            }
            onTakeBack={(name) => actions.exclude((now) => withoutFeature(now, name))}
          />
          {feature === null ? (
            <p className="panel waiting" role="status">
              {asked.problems.length === 0
                ? 'Reading the points …'
                : asked.problems.map(withRemedy).join(' ')}
            </p>
          ) : (
            <ResidualsPage
              feature={feature}
              axisNames={axisNames}
              association={associationOf(disc.definition, feature)}
              title={disc.plan.title}
              units={units}
              dark={dark}
              chosen={chosen}
              onChoose={setChosen}
              form={form}
              onForm={setForm}
              byHand={(line) => linesByHand.has(line)}
              onLeave={(lines) => setLeaving({ kind: 'points', name: feature, lines })}
              onTakeBack={(line) => actions.exclude((now) => withoutPoints(now, [line]))}
              onStep={onStep}
            />
          )}
        </div>
      )}
      <ExcludeDialog
        leaving={leaving}
        reasons={reasonsGiven(session.exclusions)}
        onExclude={leaveOut}
        onClose={() => setLeaving(null)}
      />
    </main>
  );
}
