import { listAt } from '../draft.ts';
import { usePlanContext } from '../plan-context.tsx';
import { planActions } from '../plan-store.ts';
import { featuresSeen, type StartingPoint, startedFrom, startingPoints } from '../starting-points.ts';

/** Common orders of datums to begin with. */
export function StartSection() {
  const { draft, change, preview } = usePlanContext();
  const seen = featuresSeen(preview);
  const hasDatums = listAt(draft, ['disc', 'datums']).length + listAt(draft, ['blade', 'datums']).length > 0;
  const start = (point: StartingPoint): void => {
    change(startedFrom(draft, point, preview), `starting point ${point.title}`);
    planActions.update({ section: 'disc' });
  };
  return (
    <>
      <p className="block-hint lead">
        How does the drawing order its datums? A starting point writes the datums and leaves empty what only
        the drawing knows.{' '}
        {hasDatums ? 'It replaces the datums that stand there now; undo brings them back.' : ''}
      </p>
      <ul className="starting-points">
        {startingPoints.map((point) => (
          <li key={point.id}>
            <button
              type="button"
              className="picture-button"
              onClick={() => start(point)}
              data-start={point.id}
            >
              <StartEmblem kinds={point.hub.map(({ type }) => type)} />
              <span>
                <b>{point.title}</b>
                <span className="meaning">{point.meaning}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
      {preview !== null && (
        <p className="block-hint">
          From {preview.name}: {seen.stations} stations; hub features {seen.hub.join(', ') || 'none'}; blade
          features {seen.blade.join(', ') || 'none'}. Names that fit are put in place.
        </p>
      )}
    </>
  );
}

/** The hub with what it is held by, as a small picture. Decoration only. */
function StartEmblem({ kinds }: { readonly kinds: readonly string[] }) {
  const shapes: Record<string, React.ReactNode> = {
    plane: kinds[2] === 'plane' ? <path key="flat" d="M14 -16V16" className="hold" /> : null,
    cylinder: <circle key="bore" r="9" className={kinds[0] === 'cylinder' ? 'hold first' : 'hold'} />,
    midplane: <path key="slot" d="M12 -4H26M12 4H26" className="hold" />,
    circle: <circle key="hole" cx="17" r="3.4" className="hold" />,
  };
  return (
    <svg viewBox="-32 -32 64 64" className="start-emblem" aria-hidden="true">
      <circle r="27" className={kinds[0] === 'plane' ? 'body face' : 'body'} />
      {kinds.length === 0 ? (
        <path d="M-9 0H9M0 -9V9" className="hold" />
      ) : (
        [...new Set(kinds)].map((kind) => shapes[kind])
      )}
      {kinds[0] === 'cylinder' && kinds[2] === 'plane' && <path d="M14 -16V16" className="hold" />}
    </svg>
  );
}
