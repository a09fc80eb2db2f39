import { type Json, listAt, type Path, pathText, placeKey, textAt, withValue } from '../draft.ts';
import { featureTypes } from '../nominal.ts';
import { placeWords } from '../place-words.ts';
import { usePlanContext } from '../plan-context.tsx';
import { DatumOptions } from './datum-options.tsx';
import { retyped } from './retyped.ts';
import { SurfaceFields } from './surface-fields.tsx';
import { typeWords } from './type-words.ts';

interface DatumCardProps {
  readonly path: Path;
  readonly datum: Json;
  readonly position: number;
  readonly count: number;
  readonly free: readonly string[];
  /** Null while the datum is incomplete. */
  readonly fixes: readonly string[] | null;
  readonly onMove: (by: 1 | -1) => void;
  readonly onRemove: () => void;
}

const places = ['Primary', 'Secondary', 'Tertiary'];

export function DatumCard({ path, datum, position, count, free, fixes, onMove, onRemove }: DatumCardProps) {
  const { put, change, draft, problemsUnder, onFocus, focus } = usePlanContext();
  const type = textAt(datum, ['type']);
  const label = textAt(datum, ['label']);
  const name = `Datum ${label || position + 1}`;
  const problems = problemsUnder(pathText(path));
  const isLit = focus?.startsWith(pathText(path)) ?? false;
  const members = listAt(datum, ['members']);
  return (
    <li
      className={`datum-card${isLit ? ' lit' : ''}${problems.length > 0 ? ' faulty' : ''}`}
      data-datum={label}
      onFocus={() => onFocus(pathText(path))}
    >
      <header>
        <input
          type="text"
          className="letter-input"
          value={label}
          aria-label={`Letter of datum ${position + 1}`}
          onChange={(event) => put([...path, 'label'], event.target.value)}
        />
        <select
          aria-label={`Type of ${name}`}
          value={type}
          onChange={(event) =>
            change(withValue(draft, path, retyped(datum, event.target.value)), `type of ${name}`)
          }
        >
          {[...featureTypes, 'pattern'].map((choice) => (
            <option key={choice} value={choice}>
              {typeWords[choice]}
            </option>
          ))}
        </select>
        <span className="place">{places[position] ?? `${position + 1}th`}</span>
        <span className="card-tools">
          <button
            type="button"
            className="button quiet"
            disabled={position === 0}
            onClick={() => onMove(-1)}
            aria-label={`${name}: earlier`}
          >
            ↑
          </button>
          <button
            type="button"
            className="button quiet"
            disabled={position === count - 1}
            onClick={() => onMove(1)}
            aria-label={`${name}: later`}
          >
            ↓
          </button>
          <button type="button" className="button quiet" onClick={onRemove} aria-label={`Remove ${name}`}>
            Remove
          </button>
        </span>
      </header>
      <p className={fixes !== null && fixes.length > 0 ? 'fixes' : 'fixes none'}>
        {fixes === null
          ? 'Incomplete: the drawing cannot say yet what it fixes.'
          : fixes.length === 0
            ? 'Fixes nothing that is still open: take it out, change its place in the order, or correct its direction.'
            : `Fixes ${fixes.join('; ')}.`}
      </p>
      {type === 'pattern' ? (
        <ol className="members">
          {members.map((member, k) => (
            <li key={placeKey(k)}>
              <span className="member-head">
                <b>Member {k + 1}</b>
                <select
                  aria-label={`Type of member ${k + 1} of ${name}`}
                  value={textAt(member, ['type'])}
                  onChange={(event) =>
                    change(
                      withValue(draft, [...path, 'members', k], retyped(member, event.target.value)),
                      `type of member ${k + 1}`,
                    )
                  }
                >
                  {featureTypes.map((choice) => (
                    <option key={choice} value={choice}>
                      {typeWords[choice]}
                    </option>
                  ))}
                </select>
                <button
                  type="button"
                  className="button quiet"
                  onClick={() => put([...path, 'members', k], undefined)}
                  aria-label={`Remove member ${k + 1} of ${name}`}
                >
                  Remove
                </button>
              </span>
              <SurfaceFields
                path={[...path, 'members', k]}
                surface={member}
                name={`Member ${k + 1} of ${name}`}
                free={free}
              />
            </li>
          ))}
          <li>
            <button
              type="button"
              className="button"
              onClick={() =>
                put([...path, 'members', members.length], {
                  type: 'circle',
                  nominal: { point: [0, 0, 0], direction: [0, 0, 1] },
                })
              }
            >
              + Member
            </button>
          </li>
        </ol>
      ) : (
        <SurfaceFields path={path} surface={datum} name={name} free={free} />
      )}
      <DatumOptions path={path} datum={datum} />
      {problems.length > 0 && (
        <ul className="card-problems">
          {problems.map((problem) => (
            <li key={`${problem.path} ${problem.message}`}>
              {[
                placeWords(problem.path ?? '', draft)
                  .split(', ')
                  .slice(1)
                  .join(', '),
                problem.message,
              ]
                .filter((part) => part !== '')
                .join(': ')}
            </li>
          ))}
        </ul>
      )}
    </li>
  );
}
