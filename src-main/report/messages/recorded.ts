/** What the result holds as data beside its English words: freedoms that a datum fixed, and what would settle a value. */
import type { Freedom } from '../../../shared-math/frame/freedoms.ts';
import { spelledDirection } from '../../../shared-math/frame/freedoms.ts';
import { roundedUp, type Settlement } from '../../../shared-math/uncertainty/what-would-settle.ts';
import { isAngular, type Judged, type NumberFormat } from '../format/numbers.ts';
import type { Messages } from './messages.ts';

/** What a datum fixed in the frame of the disc or of a blade. */
export function freedomIn(
  { freedoms: m, listSeparator }: Messages,
  f: NumberFormat,
  freedom: Freedom,
  frame: 'disc' | 'blade',
): string {
  if (freedom.kind === 'rotations') return m.allRotations;
  const along = freedom.along.map((direction) =>
    typeof direction === 'string'
      ? m.axes[frame][direction]
      : `(${spelledDirection(direction)
          .map((component) => f.fixed(component, 3))
          .join(listSeparator)})`,
  );
  if (freedom.kind === 'translation') return m.translation(along);
  return freedom.kind === 'tilt' ? m.tilt(along.join('')) : m.rotation(along);
}

/** What would settle an unproven value. */
export function settlementIn(
  { settle: m }: Messages,
  f: NumberFormat,
  name: Judged,
  { towards, standardUncertainty, present, pointsFactor }: Settlement,
): string {
  if (towards === null || standardUncertainty === null) return m.atLimit;
  const brief = isAngular(name) ? f.angleBrief : f.lengthBrief;
  return m.both(
    m.proven(
      towards === 'conforming' ? m.conformity : m.nonconformity,
      brief(standardUncertainty),
      brief(present),
    ),
    pointsFactor === null ? m.hub : m.points(f.significant(roundedUp(pointsFactor), 12)),
  );
}
