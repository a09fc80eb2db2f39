import { Hit } from '../../chart/hit.tsx';
import { isChosen } from '../../state/selection.ts';
import { ArrowMark } from './arrow-mark.tsx';
import { inSection, sectionReach } from './arrows.ts';
import type { ArrowsProps } from './disc-arrows.tsx';
import { ScaleBar } from './scale-bar.tsx';

/** All blades turned into one half plane through the axis: Z to the right, radius upwards. */
export function SectionArrows(props: ArrowsProps) {
  const { blades, magnification, bore, units, selected, marked, onSelect, width, height } = props;
  const axial = blades.flatMap((blade) =>
    [blade.origin, ...blade.arrows.map((arrow) => arrow.at)].map((point) => inSection(blade, point)[1]),
  );
  const middle = axial.length === 0 ? 0 : (Math.min(...axial) + Math.max(...axial)) / 2;
  const scale = (height - 78) / (1.04 * sectionReach(blades));
  const floor = height - 44;
  const place = ([r, z]: readonly [number, number]): [number, number] => [
    width / 2 + scale * (z - middle),
    floor - scale * r,
  ];
  const ordered = [...blades].sort(
    (a, b) => Number(isChosen(a.station, selected, marked)) - Number(isChosen(b.station, selected, marked)),
  );
  const [seat] = blades.map((blade) => place(inSection(blade, blade.origin)));
  return (
    <>
      <path className="axis-line" d={`M16 ${floor}H${width - 16}`} />
      <text className="faint" x={width - 16} y={floor + 15} textAnchor="end">
        axis, +Z →
      </text>
      {seat !== undefined && <Level y={seat[1]} name="seat" width={width} />}
      {bore !== null && <Level y={floor - scale * bore} name="bore" width={width} />}
      {ordered.map((blade) => {
        const chosen = isChosen(blade.station, selected, marked);
        const points = [blade.origin, ...blade.arrows.map((arrow) => arrow.at)].map((point) =>
          place(inSection(blade, point)),
        );
        return (
          <g
            key={blade.station}
            data-station={blade.station}
            className={chosen ? 'blade chosen' : 'blade faded'}
          >
            <path className="nominal" d={`M${points.map((point) => point.join(' ')).join('L')}`} />
            {blade.arrows.map((arrow) => {
              const [r, z] = inSection(blade, arrow.at);
              const [dr, dz] = inSection(blade, arrow.delta);
              return (
                <g key={arrow.name}>
                  <ArrowMark
                    from={place([r, z])}
                    to={place([r + magnification * dr, z + magnification * dz])}
                    outside={arrow.outside}
                    chosen={chosen}
                  />
                  {chosen && (
                    <text className="point-name" x={place([r, z])[0] + 14} y={place([r, z])[1] + 4}>
                      {arrow.name}
                    </text>
                  )}
                </g>
              );
            })}
          </g>
        );
      })}
      {ordered.flatMap((blade) =>
        blade.arrows.map((arrow) => {
          const [r, z] = inSection(blade, arrow.at);
          const [dr, dz] = inSection(blade, arrow.delta);
          const [x, y] = place([r + magnification * dr, z + magnification * dz]);
          return (
            <Hit
              key={`${blade.station} ${arrow.name}`}
              x={x - 7}
              y={y - 7}
              width={14}
              height={14}
              title={`Station ${blade.station}, ${arrow.name}`}
              onClick={() => onSelect(blade.station)}
            />
          );
        }),
      )}
      <text className="magnification" x={16} y={26}>
        ×{magnification}
      </text>
      <ScaleBar x={16} y={height - 16} pixels={scale * magnification} units={units} />
    </>
  );
}

function Level({ y, name, width }: { readonly y: number; readonly name: string; readonly width: number }) {
  return (
    <>
      <path className="level" d={`M16 ${y}H${width - 16}`} />
      <text className="faint" x={width - 16} y={y - 4} textAnchor="end">
        {name} radius
      </text>
    </>
  );
}
