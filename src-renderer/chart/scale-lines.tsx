import { type Scale, tickText } from './scale.ts';

/** Lines of an upright scale across the drawing, with their values at its left. */
export function LevelLines(props: { readonly scale: Scale; readonly left: number; readonly right: number }) {
  const { scale, left, right } = props;
  return scale.ticks.map((tick) => (
    <g key={tick}>
      <path className={tick === 0 ? 'zero' : 'grid'} d={`M${left} ${scale.at(tick)}H${right}`} />
      <text className="faint" x={left - 6} y={scale.at(tick) + 4} textAnchor="end">
        {tickText(tick)}
      </text>
    </g>
  ));
}

/** Lines of a lying scale down the drawing, with their values below it. */
export function UprightLines(props: {
  readonly scale: Scale;
  readonly top: number;
  readonly bottom: number;
}) {
  const { scale, top, bottom } = props;
  return scale.ticks.map((tick) => (
    <g key={tick}>
      <path className="grid" d={`M${scale.at(tick)} ${top}V${bottom}`} />
      <text className="faint" x={scale.at(tick)} y={bottom + 15} textAnchor="middle">
        {tickText(tick)}
      </text>
    </g>
  ));
}
