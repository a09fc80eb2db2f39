import type { ReducedDisc } from '../../../src-main/api.ts';
import { isOverLimit, type QuantityGroup, type QuantityName, quantities } from '../../format/quantities.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';

const groups: readonly (readonly [QuantityGroup, string])[] = [
  ['position', 'True position'],
  ['blade', 'Blade frame'],
  ['disc', 'Disc frame'],
];

interface RailProps {
  readonly disc: ReducedDisc;
  readonly value: QuantityName;
  readonly onChange: (name: QuantityName) => void;
}

/** Selector of the quantity on the map; each entry tells how many stations exceed its limit. */
export function QuantityRail({ disc, value, onChange }: RailProps) {
  return (
    <fieldset className="rail" aria-label="Quantity on the map">
      {groups.map(([group, title]) => (
        <div key={group} className="rail-group">
          <p className="caption">{title}</p>
          {quantities
            .filter((entry) => entry.group === group)
            .map((entry) => {
              const over = disc.result.stations.filter((station) => isOverLimit(station, entry.name)).length;
              return (
                <label key={entry.name} title={entry.meaning}>
                  <input
                    type="radio"
                    name="quantity"
                    value={entry.name}
                    checked={entry.name === value}
                    onChange={() => onChange(entry.name)}
                  />
                  <span>{entry.label}</span>
                  {over > 0 && (
                    <span className="over">
                      <VerdictMark standing="nonconforming" />
                      {over}
                      <span className="unseen"> over the limit</span>
                    </span>
                  )}
                </label>
              );
            })}
        </div>
      ))}
    </fieldset>
  );
}
