/** A pattern of features as one datum: the best rigid fit of all members to their nominal places. */
import { type BodyFit, fitBody } from '../alignment/fit-body.ts';
import { distanceRows } from '../alignment/nominal-distance.ts';
import type { FeatureTarget } from '../alignment/targets.ts';
import type { AssociationInput, SubstituteFeature } from '../association/types.ts';
import type { Datum, DatumDefinition, PatternDatum } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { applyToDirection, applyToPoint, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { type PatternOffer, patternOffer } from './pattern-freedoms.ts';

/** The features that a datum consists of: the members of a pattern, else itself. */
export function memberDatums(datum: Datum): readonly DatumDefinition[] {
  return datum.type === 'pattern' ? datum.members : [datum];
}

/** What stands one a feature name of a datum, split by its members. */
export function splitByMember<T>(datum: Datum, list: readonly T[]): readonly (readonly T[])[] {
  let at = 0;
  return memberDatums(datum).map(({ features }) => {
    at += features.length;
    return list.slice(at - features.length, at);
  });
}

/** The features of a datum as targets of a whole-body fit. */
export function targetsOf(datum: Datum, inputs: readonly AssociationInput[]): readonly FeatureTarget[] {
  const parts = splitByMember(datum, inputs);
  return memberDatums(datum).map((member, k) => ({
    datum: member,
    nominal: member.nominal,
    inputs: parts[k]!,
  }));
}

/** What the frame built so far asks of a pattern. */
export interface PatternTask {
  /** The motion so far: nominal to measured coordinates. */
  readonly start: RigidMotion;
  readonly offer: PatternOffer;
}

/** The motion that a pattern asks for by itself, under no constraint. */
export function freeTask(pattern: PatternDatum, start: RigidMotion): PatternTask {
  const turns: readonly Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  return { start, offer: patternOffer(pattern, turns) };
}

/**
 * A fitted pattern. `point` is the image of the offer's reference, `direction` that of the axis that it leaves open;
 * residuals are those of all members from their nominal features.
 */
export interface PatternFeature extends Omit<SubstituteFeature, 'type'> {
  readonly type: 'pattern';
  /** Nominal to measured coordinates; what the pattern does not observe is as it was at the start. */
  readonly pose: RigidMotion;
}

/**
 * Fits a pattern. Sizes of the members are held at nominal.
 *
 * @param inputs one for each feature name of the pattern, as `datumInputs` gives them.
 * @throws ReductionError of the fit; `degenerate-points` where the points leave more open than the nominal members do.
 */
export function associatePattern(
  pattern: PatternDatum,
  inputs: readonly AssociationInput[],
  { start, offer }: PatternTask,
): PatternFeature {
  const targets = targetsOf(pattern, inputs);
  const place = { datum: pattern.label, feature: pattern.features.join(', ') };
  let fit: BodyFit;
  try {
    fit = fitBody(targets, start, { turns: offer.observed, shifts: offer.translations });
  } catch (error) {
    throw error instanceof ReductionError ? error.at(place) : error;
  }
  if (fit.freeMotions.length > 0)
    throw ReductionError.of(
      'degenerate-points',
      { code: 'pattern-undetermined', values: { datum: pattern.label } },
      place,
    );
  const { motion } = fit;
  return {
    type: 'pattern',
    pose: motion,
    point: applyToPoint(motion, offer.reference),
    direction: offer.axis === null ? null : applyToDirection(motion, offer.axis),
    radius: null,
    halfAngle: null,
    points: fit.points,
    sumOfSquares: fit.sumOfSquares,
    ...spreadOf(targets, fit),
    degreesOfFreedom: fit.degreesOfFreedom,
    parameters: [],
    cofactor: [],
    conditionNumber: fit.conditionNumber,
    iterations: fit.iterations,
    stopReason: 'step',
  };
}

/** Unweighted rms and peak to valley of the distances; distances without sign count from zero. */
function spreadOf(targets: readonly FeatureTarget[], { motion, halfWidths }: BodyFit) {
  const back = inverse(motion);
  let [squares, n, least, most] = [0, 0, 0, 0];
  let midplane = -1;
  for (const { datum, nominal, inputs } of targets) {
    if (datum.type === 'midplane') midplane++;
    inputs.forEach(({ xyz, offsets }, face) => {
      const stand = datum.type === 'midplane' ? (face === 0 ? 1 : -1) * halfWidths[midplane]! : 0;
      for (let i = 0; 3 * i < xyz.length; i++) {
        const q = applyToPoint(back, [xyz[3 * i]!, xyz[3 * i + 1]!, xyz[3 * i + 2]!]);
        const rows = distanceRows(datum.type, nominal, q, (offsets?.[i] ?? 0) + stand);
        const d = rows.length === 1 ? rows[0]!.value : Math.hypot(...rows.map((row) => row.value));
        squares += d * d;
        least = Math.min(least, d);
        most = Math.max(most, d);
        n++;
      }
    });
  }
  return { rms: Math.sqrt(squares / n), form: most - least };
}
