import { useId } from 'react';
import { type Json, listAt, type Path, pathText, placeKey, textAt, valueAt } from '../draft.ts';
import { VectorInput } from '../fields/field-view.tsx';
import { NumberInput } from '../fields/number-input.tsx';
import { useFocusOnAdded } from '../focus.ts';
import { usePlanContext } from '../plan-context.tsx';
import { Choice } from './choice.tsx';

interface CheckPointsProps {
  /** The position block: of the blade, or of a station that differs. */
  readonly owner: Path;
}

/** Where on the blade the position is checked: named points in the blade frame, each with its own zone if it has one. */
export function CheckPoints({ owner }: CheckPointsProps) {
  const { draft, put, problemsUnder, onFocus } = usePlanContext();
  const id = useId();
  const at = [...owner, 'checkPoints'];
  const points = listAt(draft, at);
  const [list, adding] = useFocusOnAdded<HTMLOListElement>(points.length);
  const add = (name: string, place: Json): void => {
    adding();
    put([...at, points.length], { name, at: place });
  };
  return (
    <section className="block">
      <h3>Check points</h3>
      <p className="block-hint">
        In the blade frame: o along oscillation, l lateral, u up the stacking axis. Give one at the tip, since
        a small rotation shows there. The largest position of all of them is the blade’s.
      </p>
      <ol className="rows" ref={list}>
        {points.map((point, index) => {
          const path = [...at, index];
          const zone =
            textAt(point, ['zone']) ||
            textAt(draft, [...owner, 'zone']) ||
            textAt(draft, ['blade', 'position', 'zone']);
          const name = textAt(point, ['name']) || `point ${index + 1}`;
          return (
            <li
              key={placeKey(index)}
              onFocus={() => onFocus(pathText(path))}
              className={problemsUnder(pathText(path)).length > 0 ? 'faulty' : ''}
            >
              <span className="small-field">
                <label htmlFor={`${id}-${index}`}>Name</label>
                <input
                  id={`${id}-${index}`}
                  type="text"
                  value={textAt(point, ['name'])}
                  onChange={(event) => put([...path, 'name'], event.target.value)}
                />
              </span>
              <span className="small-field">
                <span className="small-label">Place</span>
                <VectorInput
                  id={`${id}-${index}-p`}
                  value={valueAt(point, ['at'])}
                  onValue={(next) => put([...path, 'at'], next)}
                  axes={['o', 'l', 'u']}
                  unit="mm"
                  label={`Check point ${name}`}
                />
              </span>
              <details>
                <summary>Own zone</summary>
                <span className="more">
                  <span className="small-field">
                    <label htmlFor={`${id}-${index}-t`}>Tolerance</label>
                    <span className="with-unit">
                      <NumberInput
                        id={`${id}-${index}-t`}
                        value={valueAt(point, ['tolerance'])}
                        onValue={(next) => put([...path, 'tolerance'], next)}
                      />
                      <span className="unit">mm</span>
                    </span>
                  </span>
                  <Choice
                    id={`${id}-${index}-z`}
                    label="Zone"
                    value={textAt(point, ['zone'])}
                    onValue={(next) => put([...path, 'zone'], next)}
                    choices={[
                      ['', 'As above'],
                      ['cylindrical', 'Cylindrical'],
                      ['spherical', 'Spherical'],
                      ['planar', 'Planar'],
                    ]}
                  />
                  {zone === 'planar' && (
                    <span className="small-field">
                      <span className="small-label">Direction</span>
                      <VectorInput
                        id={`${id}-${index}-d`}
                        value={valueAt(point, ['direction'])}
                        onValue={(next) => put([...path, 'direction'], next)}
                        axes={['o', 'l', 'u']}
                        unit=""
                        label={`Direction of check point ${name}`}
                      />
                    </span>
                  )}
                </span>
              </details>
              <button
                type="button"
                className="button quiet"
                aria-label={`Remove check point ${name}`}
                onClick={() => put(path, undefined)}
              >
                Remove
              </button>
            </li>
          );
        })}
      </ol>
      <div className="row-buttons">
        {points.length === 0 && (
          <button type="button" className="button" onClick={() => add('root', [0, 0, 0])}>
            + At the blade origin
          </button>
        )}
        <button
          type="button"
          className="button"
          onClick={() =>
            add(
              points.some((point) => textAt(point, ['name']) === 'tip')
                ? `point ${points.length + 1}`
                : 'tip',
              [0, 0, null],
            )
          }
        >
          + Check point
        </button>
      </div>
    </section>
  );
}

const motions = [
  ['x', 'along X'],
  ['y', 'along Y'],
  ['z', 'along Z'],
  ['rotX', 'about X'],
  ['rotY', 'about Y'],
  ['rotZ', 'about Z'],
] as const;

/** Which motions of the whole pattern of blades the second level leaves open. */
export function PatternMotions() {
  const { draft, put } = usePlanContext();
  const path = ['blade', 'position', 'featureRelating'] as const;
  if (valueAt(draft, path) === undefined) return null;
  const stated = valueAt(draft, [...path, 'free']);
  const free = listAt(draft, [...path, 'free']);
  const isFree = (motion: string): boolean => stated === undefined || free.includes(motion);
  return (
    <fieldset className="field choice">
      <legend className="field-label">The pattern may move</legend>
      <span className="checks">
        {motions.map(([motion, word]) => (
          <label key={motion}>
            <input
              type="checkbox"
              checked={isFree(motion)}
              onChange={(event) => {
                const next = motions
                  .map(([name]) => name)
                  .filter((name) => (name === motion ? event.target.checked : isFree(name)));
                put([...path, 'free'], next.length === motions.length ? undefined : next);
              }}
            />
            {word}
          </label>
        ))}
      </span>
      <p className="field-hint">
        Against the hub frame, all blades together. All six where nothing is stated.
      </p>
    </fieldset>
  );
}
