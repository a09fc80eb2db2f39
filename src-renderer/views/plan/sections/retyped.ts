import { isBlock, type Json } from '../draft.ts';
import { roundTypes, undirectedTypes } from '../nominal.ts';

/** The same datum as another type: what the new type does not have goes, what it needs is asked for. */
export function retyped(datum: Json, type: string): Json {
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
