/** What the three invented trial discs have in common. */

import type { DatumFeature } from './features.ts';
import type { Plan, Touched } from './scenario.ts';

/** The head of a plan: which trial disc, and when and where it was measured. */
export function rowanHead(
  trial: 1 | 2 | 3,
  revision: string,
  measured: { machine: string; operator: string; date: string; calibrationDue: string },
): object {
  const { machine, ...by } = measured;
  return {
    format: 'hubtrue-plan/1',
    title: `Rowan demonstrator fan, trial disc ${trial}`,
    units: 'mm',
    part: {
      name: 'Rowan demonstrator fan disc (invented)',
      number: `ROWAN-FAN-0${trial}`,
      revision,
      serial: `TRIAL-${trial}`,
      material: 'Ti-6Al-4V',
    },
    inspection: { machine, program: 'ROWAN-FULL', ...by },
  };
}

/** Position of every blade: 0.05 mm in cylindrical zones at its root and at its tip, `tip` mm out. */
export const positionOutTo = (tip: number): Plan['blade']['position'] => ({
  tolerance: 0.05,
  zone: 'cylindrical',
  checkPoints: [
    { name: 'root', at: [0, 0, 0] },
    { name: 'tip', at: [0, 0, tip] },
  ],
});

/** Limits of the six errors; `across` is that of oscillation and lateral, mm. */
export const limitsWith = (across: number): Plan['blade']['limits'] => ({
  oscillation: across,
  lateral: across,
  upset: 0.05,
  rotOscillation: 0.0005,
  rotLateral: 0.0005,
  rotUpset: 0.001,
});

/** Position planned for each cause, mm. */
export const plannedBudget = {
  toolSetup: 0.012,
  index: 0.012,
  frame: 0.01,
  wear: 0.005,
  toolChange: 0.008,
  scatter: 0.02,
};

/** Probing and scale of the machine, mm and relative, at the coverage that the plans ask for. */
export const machineUncertainty = { probing: 0.0012, scale: 2.5e-6, coverage: 0.95 };

/** Titanium: expansion (1/K) and how well temperature and expansion are known. */
export const titanium = { expansion: 8.6e-6, uPart: 0.2, uExpansion: 0.5e-6 };

export const datumsOf = (features: readonly DatumFeature[]): object[] => features.map(({ datum }) => datum);

export const touchedOf = (features: readonly DatumFeature[]): Touched[] =>
  features.flatMap(({ touched }) => touched);
