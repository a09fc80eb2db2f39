interface ArrowMarkProps {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly outside: boolean;
  readonly chosen: boolean;
}

/** An arrow in pixels; a diamond at its foot where the check point is outside its zone. */
export function ArrowMark({ from, to, outside, chosen }: ArrowMarkProps) {
  const [x1, y1] = from;
  const [x2, y2] = to;
  const length = Math.hypot(x2 - x1, y2 - y1);
  const head = Math.min(length, chosen ? 9 : 7);
  const [ux, uy] = length < 1e-6 ? [1, 0] : [(x2 - x1) / length, (y2 - y1) / length];
  const [bx, by] = [x2 - ux * head, y2 - uy * head];
  const wing = head * 0.42;
  return (
    <g className={`arrow ${outside ? 'out' : 'in'} ${chosen ? 'chosen' : ''}`}>
      <path className="shaft" d={`M${x1} ${y1}L${bx} ${by}`} />
      <path
        className="head"
        d={`M${x2} ${y2}L${bx - uy * wing} ${by + ux * wing}L${bx + uy * wing} ${by - ux * wing}Z`}
      />
      {outside ? (
        <path className="foot" d={`M${x1} ${y1 - 4}l4 4l-4 4l-4 -4Z`} />
      ) : (
        <circle className="foot" cx={x1} cy={y1} r={2.2} />
      )}
    </g>
  );
}
