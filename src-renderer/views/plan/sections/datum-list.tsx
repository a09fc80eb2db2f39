import { useId, useState } from 'react';
import {
  isBlock,
  type Json,
  listAt,
  type Path,
  pathText,
  placeKey,
  textAt,
  valueAt,
  withValue,
} from '../draft.ts';
import { describeSketches, FreedomTable } from '../drawings/freedom-table.tsx';
import { VectorInput } from '../fields/field-view.tsx';
import { NumberInput } from '../fields/number-input.tsx';
import { associationChoices } from '../fields.ts';
import { datumSketches, featureTypes, roundTypes, undirectedTypes } from '../nominal.ts';
import { placeWords } from '../place-words.ts';
import { usePlanContext } from '../plan-context.tsx';
import { radiusWords, shapeOf, shapeWords } from '../shape-hints.ts';
import { freeFeatures, nextLabel } from '../starting-points.ts';
import './datum-list.css';

const typeWords: Record<string, string> = {
  plane: 'Plane',
  cylinder: 'Cylinder',
  midplane: 'Mid-plane of two faces',
  circle: 'Circle',
  line: 'Line',
  cone: 'Cone',
  sphere: 'Sphere',
  point: 'Point',
  pattern: 'Pattern of features',
};

interface DatumListProps {
  readonly owner: 'disc' | 'blade';
}

/** Datums in their order of precedence: what each is, where it lies by the drawing, and what it fixes. */
export function DatumList({ owner }: DatumListProps) {
  const { draft, change, preview } = usePlanContext();
  const path: Path = [owner, 'datums'];
  const datums = listAt(draft, path);
  const sketches = datumSketches(draft, owner);
  const system = describeSketches(owner, sketches);
  const set = (next: readonly Json[], what: string): void => change(withValue(draft, path, next), what);
  const free = freeFeatures(draft, owner, preview);
  let at = 0;
  return (
    <div className="datum-list">
      <FreedomTable owner={owner} sketches={sketches} />
      <ol>
        {datums.map((datum, index) => {
          const effect = sketches[index]?.datum === null ? null : (system.datums[at++] ?? null);
          return (
            <DatumCard
              key={placeKey(index)}
              path={[...path, index]}
              datum={datum}
              position={index}
              count={datums.length}
              free={free}
              fixes={effect === null ? null : effect.fault !== null ? [effect.fault] : effect.fixes}
              onMove={(by) => {
                const next = [...datums];
                const [moved] = next.splice(index, 1);
                if (moved !== undefined) next.splice(index + by, 0, moved);
                set(next, `order of ${pathText(path)}`);
              }}
              onRemove={() =>
                set(
                  datums.filter((_, k) => k !== index),
                  `datum removed from ${pathText(path)}`,
                )
              }
            />
          );
        })}
      </ol>
      <AddDatum
        free={free}
        onAdd={(type, feature) =>
          set([...datums, blankDatum(nextLabel(draft), type, feature)], `datum added to ${pathText(path)}`)
        }
      />
    </div>
  );
}

function blankDatum(label: string, type: string, feature: string): Json {
  const direction = undirectedTypes.has(type) ? {} : { direction: [0, 0, 1] };
  const place = { point: [0, 0, 0], ...direction };
  if (type === 'pattern')
    return {
      label,
      type,
      members: [feature, ''].map((name) => ({
        ...(name === '' ? {} : { feature: name }),
        type: 'circle',
        nominal: { point: [0, 0, 0], direction: [0, 0, 1] },
      })),
    };
  const named =
    type === 'midplane' ? { features: feature === '' ? [] : [feature] } : feature === '' ? {} : { feature };
  return { label, ...named, type, nominal: place };
}

function AddDatum({
  free,
  onAdd,
}: {
  readonly free: readonly string[];
  readonly onAdd: (type: string, feature: string) => void;
}) {
  const { preview } = usePlanContext();
  const [feature, setFeature] = useState('');
  const id = useId();
  const chosen = free.includes(feature) ? feature : (free[0] ?? '');
  const looks: readonly string[] = shapeOf(preview, chosen)?.looks ?? [];
  const words = shapeWords(preview, chosen);
  return (
    <div className="add-datum">
      {free.length > 0 && (
        <>
          <label htmlFor={id}>Add a datum on</label>
          <select id={id} value={chosen} onChange={(event) => setFeature(event.target.value)}>
            {free.map((name) => (
              <option key={name}>{name}</option>
            ))}
          </select>
          {words !== '' && <span className="seen">{words}</span>}
        </>
      )}
      <span className="add-buttons">
        {[...featureTypes, 'pattern'].map((type) => (
          <button
            key={type}
            type="button"
            className={looks.includes(type) ? 'button fitting' : 'button'}
            onClick={() => onAdd(type, chosen)}
          >
            + {typeWords[type]}
          </button>
        ))}
      </span>
    </div>
  );
}

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

function DatumCard({ path, datum, position, count, free, fixes, onMove, onRemove }: DatumCardProps) {
  const { put, change, draft, problemsUnder, onFocus, focus } = usePlanContext();
  const id = useId();
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
      <details>
        <summary>Association and clocking</summary>
        <div className="more">
          <Choice
            id={`${id}-a`}
            label="Association"
            value={textAt(datum, ['association'])}
            onValue={(next) => put([...path, 'association'], next)}
            choices={associationChoices.map(([choice, word]) => [String(choice ?? ''), word] as const)}
          />
          {type !== 'pattern' && (
            <Choice
              id={`${id}-c`}
              label="Clocks the frame by"
              value={textAt(datum, ['clocking'])}
              onValue={(next) => put([...path, 'clocking'], next)}
              choices={[
                ['', 'Usual for the type'],
                ['direction', 'Its direction'],
                ['location', 'Its location'],
              ]}
            />
          )}
          <Choice
            id={`${id}-w`}
            label="Weights"
            value={textAt(datum, ['weights'])}
            onValue={(next) => put([...path, 'weights'], next)}
            choices={[
              ['', 'As the plan'],
              ['equal', 'All alike'],
              ['sigma', 'By sigma'],
            ]}
          />
          <Choice
            id={`${id}-s`}
            label="Screen for wild points"
            value={valueAt(datum, ['screen']) === null ? 'none' : textAt(datum, ['screen', 'method'])}
            onValue={(next) =>
              put(
                [...path, 'screen'],
                next === undefined
                  ? undefined
                  : next === 'none'
                    ? null
                    : { ...blockOf(valueAt(datum, ['screen'])), method: next },
              )
            }
            choices={[
              ['', 'As the plan'],
              ['none', 'None'],
              ['huber', 'Huber'],
              ['biweight', 'Biweight'],
            ]}
          />
          {isBlock(valueAt(datum, ['screen'])) && (
            <>
              <span className="small-field">
                <label htmlFor={`${id}-k`}>Flag beyond</label>
                <span className="with-unit">
                  <NumberInput
                    id={`${id}-k`}
                    value={valueAt(datum, ['screen', 'cutoff'])}
                    onValue={(next) => put([...path, 'screen', 'cutoff'], next)}
                  />
                  <span className="unit">robust σ</span>
                </span>
              </span>
              <Choice
                id={`${id}-x`}
                label="Flagged points"
                value={valueAt(datum, ['screen', 'exclude']) === true ? 'true' : ''}
                onValue={(next) => put([...path, 'screen', 'exclude'], next === 'true' ? true : undefined)}
                choices={[
                  ['', 'Stay in'],
                  ['true', 'Are left out'],
                ]}
              />
            </>
          )}
        </div>
      </details>
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

function blockOf(value: Json | undefined): { readonly [key: string]: Json } {
  return isBlock(value) ? value : {};
}

interface SurfaceFieldsProps {
  readonly path: Path;
  readonly surface: Json;
  readonly name: string;
  readonly free: readonly string[];
}

const directions = [
  ['+X', [1, 0, 0]],
  ['+Y', [0, 1, 0]],
  ['+Z', [0, 0, 1]],
  ['−X', [-1, 0, 0]],
  ['−Y', [0, -1, 0]],
  ['−Z', [0, 0, -1]],
] as const;

/** Names in the point file, and the nominal place by the drawing. */
function SurfaceFields({ path, surface, name, free }: SurfaceFieldsProps) {
  const { put, problemsUnder, preview } = usePlanContext();
  const id = useId();
  const type = textAt(surface, ['type']);
  const measured = radiusWords(preview, textAt(surface, ['feature']));
  const isBlade = path[0] === 'blade';
  const axes = isBlade ? (['o', 'l', 'u'] as const) : (['X', 'Y', 'Z'] as const);
  const direction = valueAt(surface, ['nominal', 'direction']);
  const isFaulty = (key: string): boolean => problemsUnder(`${pathText(path)}.${key}`).length > 0;
  const several = type === 'midplane' || listAt(surface, ['features']).length > 0;
  return (
    <div className="surface-fields">
      <span className="small-field wide">
        <label htmlFor={`${id}-f`}>
          {several ? 'Features in the point file' : 'Feature in the point file'}
        </label>
        {several ? (
          <FeatureNames
            id={`${id}-f`}
            names={listAt(surface, ['features'])}
            onNames={(next) => put([...path, 'features'], next)}
            free={free}
            most={type === 'midplane' ? 2 : 12}
            name={name}
          />
        ) : (
          <span className="with-unit">
            <input
              id={`${id}-f`}
              type="text"
              list={`${id}-names`}
              value={textAt(surface, ['feature'])}
              aria-invalid={isFaulty('feature')}
              onChange={(event) =>
                put([...path, 'feature'], event.target.value === '' ? undefined : event.target.value)
              }
            />
            <datalist id={`${id}-names`}>
              {free.map((feature) => (
                <option key={feature} value={feature} />
              ))}
            </datalist>
          </span>
        )}
      </span>
      <span className="small-field wide">
        <span className="small-label" id={`${id}-p`}>
          {type === 'plane' || type === 'midplane'
            ? 'A point on it'
            : type === 'cylinder' || type === 'line'
              ? 'A point on its axis'
              : 'Its place'}
        </span>
        <VectorInput
          id={`${id}-p`}
          value={valueAt(surface, ['nominal', 'point'])}
          onValue={(next) => put([...path, 'nominal', 'point'], next)}
          axes={axes}
          unit="mm"
          label={`${name}, point`}
          isFaulty={isFaulty('nominal.point')}
        />
      </span>
      {!undirectedTypes.has(type) && (
        <span className="small-field wide">
          <span className="small-label">
            {type === 'plane'
              ? 'Direction, out of the material'
              : type === 'midplane'
                ? 'Direction across the two faces'
                : 'Direction of its axis'}
          </span>
          <VectorInput
            id={`${id}-d`}
            value={direction}
            onValue={(next) => put([...path, 'nominal', 'direction'], next)}
            axes={axes}
            unit=""
            label={`${name}, direction`}
            isFaulty={isFaulty('nominal.direction')}
          />
          <span className="quick">
            {directions.map(([word, vector], k) => {
              const text = isBlade ? `${word[0]}${axes[k % 3]}` : word;
              const isChosen = JSON.stringify(direction) === JSON.stringify(vector);
              return (
                <button
                  key={word}
                  type="button"
                  aria-pressed={isChosen}
                  aria-label={`${name}: direction ${text}`}
                  onClick={() => put([...path, 'nominal', 'direction'], vector)}
                >
                  {text}
                </button>
              );
            })}
          </span>
        </span>
      )}
      {roundTypes.has(type) && (
        <>
          <span className="small-field">
            <label htmlFor={`${id}-r`}>{type === 'cone' ? 'Radius at that point' : 'Radius'}</label>
            <span className="with-unit">
              <NumberInput
                id={`${id}-r`}
                value={valueAt(surface, ['nominal', 'radius'])}
                onValue={(next) => put([...path, 'nominal', 'radius'], next)}
                isFaulty={isFaulty('nominal.radius')}
              />
              <span className="unit">mm</span>
              {measured !== '' && <span className="also">{measured}</span>}
            </span>
          </span>
          <Choice
            id={`${id}-s`}
            label="It is"
            value={textAt(surface, ['side'])}
            onValue={(next) => put([...path, 'side'], next)}
            choices={[
              ['', 'Not stated'],
              ['inside', 'A bore (material outside)'],
              ['outside', 'A shaft (material inside)'],
            ]}
          />
        </>
      )}
      {type === 'cone' && (
        <span className="small-field">
          <label htmlFor={`${id}-h`}>Half angle</label>
          <span className="with-unit">
            <NumberInput
              id={`${id}-h`}
              value={valueAt(surface, ['nominal', 'halfAngle'])}
              onValue={(next) => put([...path, 'nominal', 'halfAngle'], next)}
              isFaulty={isFaulty('nominal.halfAngle')}
            />
            <span className="unit">°</span>
          </span>
        </span>
      )}
      {type === 'plane' && (
        <Choice
          id={`${id}-m`}
          label="Material lies"
          value={textAt(surface, ['material'])}
          onValue={(next) => put([...path, 'material'], next)}
          choices={[
            ['', 'Behind the direction (usual)'],
            ['negative', 'Behind the direction'],
            ['positive', 'Before the direction'],
          ]}
        />
      )}
    </div>
  );
}

interface FeatureNamesProps {
  readonly id: string;
  readonly names: readonly Json[];
  readonly onNames: (names: readonly Json[]) => void;
  readonly free: readonly string[];
  readonly most: number;
  readonly name: string;
}

function FeatureNames({ id, names, onNames, free, most, name }: FeatureNamesProps) {
  const shown = [...names, ...Array<Json>(Math.max(0, 2 - names.length)).fill('')];
  return (
    <span className="feature-names">
      {shown.map((feature, k) => (
        <input
          key={placeKey(k)}
          id={k === 0 ? id : undefined}
          type="text"
          list={`${id}-all`}
          aria-label={`${name}, feature ${k + 1}`}
          value={typeof feature === 'string' ? feature : ''}
          onChange={(event) => onNames(shown.map((old, at) => (at === k ? event.target.value : old)))}
        />
      ))}
      {shown.length < most && (
        <button type="button" className="button quiet" onClick={() => onNames([...shown, ''])}>
          + Feature
        </button>
      )}
      <datalist id={`${id}-all`}>
        {free.map((feature) => (
          <option key={feature} value={feature} />
        ))}
      </datalist>
    </span>
  );
}

interface ChoiceProps {
  readonly id: string;
  readonly label: string;
  /** Empty: not stated. */
  readonly value: string;
  readonly onValue: (value: string | undefined) => void;
  readonly choices: readonly (readonly [value: string, text: string])[];
}

export function Choice({ id, label, value, onValue, choices }: ChoiceProps) {
  return (
    <span className="small-field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => onValue(event.target.value === '' ? undefined : event.target.value)}
      >
        {choices.map(([choice, text]) => (
          <option key={choice} value={choice}>
            {text}
          </option>
        ))}
      </select>
    </span>
  );
}

/** The same datum as another type: what the new type does not have goes, what it needs is asked for. */
function retyped(datum: Json, type: string): Json {
  if (!isBlock(datum)) return datum;
  const { nominal, feature, features, members, side, material, ...others } = datum;
  const names = [
    ...(typeof feature === 'string' ? [feature] : []),
    ...(Array.isArray(features) ? (features as Json[]) : []),
  ];
  const place = isBlock(nominal) ? nominal : { point: [0, 0, 0] };
  const { radius, halfAngle, direction, ...point } = place;
  const next = {
    ...point,
    ...(undirectedTypes.has(type) ? {} : { direction: direction ?? [0, 0, 1] }),
    ...(roundTypes.has(type) && radius !== undefined ? { radius } : {}),
    ...(type === 'cone' && halfAngle !== undefined ? { halfAngle } : {}),
  };
  if (type === 'pattern')
    return {
      ...others,
      type,
      members:
        members ??
        [0, 1].map((k) => ({ ...(names[k] ? { feature: names[k] } : {}), type: 'circle', nominal: next })),
    };
  return {
    ...others,
    ...(type === 'midplane' || names.length > 1
      ? { features: names }
      : names[0] === undefined
        ? {}
        : { feature: names[0] }),
    type,
    nominal: next,
    ...(roundTypes.has(type) && side !== undefined ? { side } : {}),
    ...(type === 'plane' && material !== undefined ? { material } : {}),
  };
}
