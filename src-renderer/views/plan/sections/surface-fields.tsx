import { useId } from 'react';
import { type Json, listAt, type Path, pathText, placeKey, textAt, valueAt } from '../draft.ts';
import { VectorInput } from '../fields/field-view.tsx';
import { NumberInput } from '../fields/number-input.tsx';
import { roundTypes, undirectedTypes } from '../nominal.ts';
import { usePlanContext } from '../plan-context.tsx';
import { radiusWords } from '../shape-hints.ts';
import { Choice } from './choice.tsx';

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
export function SurfaceFields({ path, surface, name, free }: SurfaceFieldsProps) {
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
