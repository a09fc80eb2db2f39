import { useId, useState } from 'react';
import { type Json, listAt, type Path, pathText, placeKey, withValue } from '../draft.ts';
import { describeSketches, FreedomTable } from '../drawings/freedom-table.tsx';
import { useFocusOnAdded } from '../focus.ts';
import { datumSketches, featureTypes, undirectedTypes } from '../nominal.ts';
import { usePlanContext } from '../plan-context.tsx';
import { shapeOf, shapeWords } from '../shape-hints.ts';
import { freeFeatures, nextLabel } from '../starting-points.ts';
import { DatumCard } from './datum-card.tsx';
import { typeWords } from './type-words.ts';
import './datum-list.css';

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
  const [list, adding] = useFocusOnAdded<HTMLOListElement>(datums.length);
  let at = 0;
  return (
    <div className="datum-list">
      <FreedomTable owner={owner} sketches={sketches} />
      <ol ref={list}>
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
        onAdd={(type, feature) => {
          adding();
          set([...datums, blankDatum(nextLabel(draft), type, feature)], `datum added to ${pathText(path)}`);
        }}
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
