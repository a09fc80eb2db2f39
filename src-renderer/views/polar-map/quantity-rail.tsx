import type { Verdict } from '../../../shared-math/result.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { type QuantityGroup, type QuantityName, quantities, verdictOf } from '../../format/quantities.ts';
import { stationViews } from '../../format/station-view.ts';
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

/** Selector of the quantity on the map; each entry tells how many stations exceed its limit, or else are not proven to keep it. */
export function QuantityRail({ disc, value, onChange }: RailProps) {
  const stations = stationViews(disc.result);
  return (
    <fieldset className="rail" aria-label="Quantity on the map">
      {groups.map(([group, title]) => (
        <div key={group} className="rail-group">
          <p className="caption">{title}</p>
          {quantities
            .filter(
              ({ group: own, name }) =>
                own === group && (name !== 'relative' || disc.result.pattern !== null),
            )
            .map((entry) => {
              const count = (verdict: Verdict): number =>
                stations.filter((station) => verdictOf(station, entry.name) === verdict).length;
              const over = count('nonconforming');
              const standing = over > 0 ? 'nonconforming' : 'unproven';
              const shown = over > 0 ? over : count('unproven');
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
                  {shown > 0 && (
                    <span className={`count ${standing}`}>
                      <VerdictMark standing={standing} />
                      {shown}
                      <span className="unseen"> {over > 0 ? 'over the limit' : 'not proven'}</span>
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
