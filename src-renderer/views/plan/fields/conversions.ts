/** The same value in another unit, said beside it. */

export const inches = (value: number): string => `${(value / 25.4).toPrecision(4)} in`;
export const arcMinutes = (value: number): string => `${((value * 180 * 60) / Math.PI).toPrecision(3)}′`;
export const percent = (value: number): string => `${+(value * 100).toPrecision(6)} %`;
export const perMillion = (value: number): string => `${+(value * 1e6).toPrecision(4)} µm/m`;
export const microns = (value: number): string => `${+(value * 1000).toPrecision(4)} µm`;

export const perMillionKelvin = (value: number): string => `${+(value * 1e6).toPrecision(4)} µm/(m·K)`;
