/** Which role a column plays by its header, whatever its case, order, spelling variant or unit suffix. */
import type { ColumnRole } from '../plan/plan-schema.ts';

/**
 * Headers by role, in order of preference, as `headerKey` writes them. Roles of the point file's contract first, then
 * wordings that are common practice in the trade (no source).
 */
const NAMES: Readonly<Record<ColumnRole, readonly string[]>> = {
  station: [
    'station',
    'stationno',
    'stationnumber',
    'stationnr',
    'stn',
    'blade',
    'bladeno',
    'bladenumber',
    'bladenr',
    'bladeid',
  ],
  feature: ['feature', 'featurename', 'element', 'elementname', 'surface'],
  label: ['label', 'pointlabel', 'name', 'pointname', 'pointid', 'id', 'tag'],
  x: axisNames('x'),
  y: axisNames('y'),
  z: axisNames('z'),
  i: ['i', 'nx', 'normalx', 'xnormal', 'ni', 'normali'],
  j: ['j', 'ny', 'normaly', 'ynormal', 'nj', 'normalj'],
  k: ['k', 'nz', 'normalz', 'znormal', 'nk', 'normalk'],
  r: ['r', 'tipradius', 'proberadius', 'probetipradius', 'rtip', 'tipr', 'stylusradius'],
  sigma: ['sigma', 'standarduncertainty', 'stduncertainty', 'uncertainty'],
  seq: ['seq', 'sequence', 'seqno', 'sequencenumber'],
  time: ['time', 'timestamp', 'datetime'],
  temperature: ['temperature', 'temp', 'parttemperature', 'parttemp', 'tpart'],
  run: ['run', 'runno', 'repeat', 'repetition'],
  direction: ['direction', 'approach'],
};

function axisNames(axis: string): readonly string[] {
  return [
    axis,
    `${axis}coord`,
    `${axis}coordinate`,
    `${axis}actual`,
    `actual${axis}`,
    `${axis}act`,
    `${axis}measured`,
    `measured${axis}`,
    `${axis}meas`,
  ];
}

const UNIT_WORDS: Readonly<Record<string, 'mm' | 'inch' | 'µm' | 'other'>> = {
  mm: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  millimetre: 'mm',
  millimetres: 'mm',
  in: 'inch',
  inch: 'inch',
  inches: 'inch',
  '"': 'inch',
  µm: 'µm',
  um: 'µm',
  micron: 'µm',
  microns: 'µm',
  micrometer: 'µm',
  micrometers: 'µm',
  micrometre: 'µm',
  micrometres: 'µm',
  m: 'other',
  cm: 'other',
  ft: 'other',
  mil: 'other',
  thou: 'other',
};

export interface HeaderName {
  /** Letters and digits only, lower case, unit taken off. */
  readonly key: string;
  /** Unit that the header states; `other` for lengths that a point file may not use. */
  readonly unit: 'mm' | 'inch' | 'µm' | 'other' | null;
  readonly unitText: string;
}

const BRACKETED = /^(.*?)\s*[[({]\s*([^\])}]*?)\s*[\])}]\s*$/;
const SUFFIXED = /^(.+?)(?:[_/]|\s+)(mm|in|inch|inches|µm|um|cm|m|°?c|degc)$/i;

export function headerName(cell: string): HeaderName {
  // The two code points of the micro sign become one.
  const text = cell.trim().replaceAll('\u03bc', 'µ');
  const match = BRACKETED.exec(text) ?? SUFFIXED.exec(text);
  const name = match?.[1] ?? text;
  const unitText = match?.[2] ?? '';
  const unit = UNIT_WORDS[unitText.toLowerCase()] ?? null;
  return { key: name.toLowerCase().replace(/[^\p{L}\p{N}]/gu, ''), unit, unitText };
}

/** Rank of a header for a role (0 is best), or −1. */
export function rankFor(role: ColumnRole, key: string): number {
  return NAMES[role].indexOf(key);
}

/** The role that a header names, if any. */
export function roleOf(key: string): ColumnRole | null {
  for (const role of Object.keys(NAMES) as ColumnRole[]) if (NAMES[role].includes(key)) return role;
  return null;
}
