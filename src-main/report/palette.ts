/** Colours of the report, dark enough on white for small print; verdict colours as in the window (Okabe–Ito set, darkened). */
import type { Tone } from './document.ts';

export const ink = '#0f2029';
export const inkQuiet = '#465a65';
export const line = '#b9c5ca';
export const lineFaint = '#dfe6e8';
export const sunken = '#f0f4f5';
export const brass = '#7d5a0c';

/** Text and marks. */
export const toneInk: Readonly<Record<Tone, string>> = {
  conforming: '#00629b',
  nonconforming: '#b04300',
  unproven: '#8d3f70',
  missing: '#5c6b73',
  caution: brass,
  quiet: inkQuiet,
};

/** Ground behind a row or a figure's area. */
export const toneTint: Readonly<Record<Tone, string>> = {
  conforming: '#e3eff6',
  nonconforming: '#fbe9df',
  unproven: '#f5e7f0',
  missing: '#eceff0',
  caution: '#f8f1dd',
  quiet: sunken,
};
