/** The plan of the invented disc in the units of the mathematics; its datums are left out, nothing here reads them. */
import type { ErrorName, PartDefinition } from '../../shared-math/definition.ts';

export interface ExampleRequirement {
  readonly tolerance: number;
  readonly limits: Partial<Record<ErrorName, number>>;
  /** Height of the tip above the blade origin, mm. */
  readonly tip: number;
}

export function exampleDefinition({ tolerance, limits, tip }: ExampleRequirement): PartDefinition {
  const checkPoint = (name: string, z: number) => ({
    name,
    at: [0, 0, z] as const,
    zone: 'cylindrical' as const,
    tolerance,
    direction: null,
  });
  return {
    sense: 'counterclockwise',
    explicitAngles: false,
    hubDatums: [],
    bladeDatums: [],
    pose: 'datum',
    stations: Array.from({ length: 18 }, (_, index) => ({
      station: index + 1,
      angle: (index * 20 * Math.PI) / 180,
      seat: { radius: 240, axial: 15, heightAngle: 0, staggerAngle: 0 },
      requirement: { checkPoints: [checkPoint('root', 0), checkPoint('tip', tip)], limits },
    })),
    temperature: null,
    uncertainty: {
      probing: 0.001,
      scale: 0,
      temperatureScale: 0,
      formCorrelation: 0,
      coverage: 0.95,
    },
    decision: { rule: 'guarded', probability: 0.95 },
  };
}
