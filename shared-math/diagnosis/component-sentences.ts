/** Each component in words. */
import type { PartDefinition } from '../definition.ts';
import type { Component, Harmonic, Outlier } from './findings.ts';
import * as words from './words.ts';

/** What is known beside the component itself. */
export interface ComponentContext {
  readonly harmonics: readonly Harmonic[];
  readonly outliers: readonly Outlier[];
  readonly offsetIsCommon: boolean;
  /** Tools of one single station: their step cannot be told from a slip of that blade. */
  readonly singleWelds: readonly { readonly station: number; readonly tool: string }[];
  readonly definition: PartDefinition;
}

/** One or two sentences, sizes marked (figures.ts); of scatter see component-remainder.ts. */
export function componentSentence(c: Omit<Component, 'sentence'>, input: ComponentContext): string {
  if (!c.significant) return words.notDistinguishable(c);
  const size = words.sizeWords(c);
  const parameter = (key: string) => c.parameters.find((p) => p.key === key);
  switch (c.name) {
    case 'ringShift': {
      const shift = parameter('shift');
      const direction = parameter('direction');
      const tilts = words
        .leadingParameters(c.parameters.filter((p) => p.key.startsWith('tilt')))
        .replaceAll(' tilt about ', ' about ');
      if (shift === undefined || direction === undefined || shift.low <= 0)
        return `The ring of blades is tilted against the hub${tilts === '' ? '' : ` by ${tilts}`}; ${size}.`;
      const moved = `The ring of blades sits ${words.micrometres(shift.value)} (${words.interval(shift)}) off the hub axis ${towards(direction.value, input)}`;
      return `${moved}${tilts === '' ? '' : ` and is tilted by ${tilts}`}; ${size}.`;
    }
    case 'common':
      return `All blades together: ${words.leadingParameters(c.parameters).replaceAll(' of all blades', '')}; ${size}.${input.offsetIsCommon ? ' Read either as hub datum or index zero, or as part of the tool offset.' : ''}`;
    case 'toolSetup':
      return `The tool holds the blades off by ${words.leadingParameters(c.parameters)}${input.offsetIsCommon ? ', beyond the common axial shift and clocking' : ''}; ${size}.`;
    case 'toolChange': {
      const tools = [...new Set(c.parameters.map((p) => p.of))];
      const steps = tools.map((tool) => {
        const step = words.leadingParameters(c.parameters.filter((p) => p.of === tool));
        return `the change to ${tool} made a step of ${step === '' ? 'no clear size' : step}`;
      });
      const single = input.singleWelds.map(
        ({ station, tool }) =>
          ` Station ${station} alone was welded with ${tool}: read this as the tool, or as a slip of that blade.`,
      );
      return `${capital(words.listed(steps))}; ${size}.${single.join('')}`;
    }
    case 'wear':
      return `The blades drift as the tool wears: ${words.leadingParameters(c.parameters)}; ${size}.`;
    case 'index':
    case 'harmonics': {
      const found = input.harmonics.filter(
        (h) => h.significant && (h.channel === 'index') === (c.name === 'index'),
      );
      const list = words.listed(found.map(words.harmonicWords));
      return list === '' ? `${capital(size)}.` : `${capital(list)}; ${size}.`;
    }
    case 'outliers':
      return input.outliers.map(words.outlierSentence).join(' ');
    default:
      return '';
  }
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A direction from the disc axis by the station that it points to, or the two that it points between. */
function towards(direction: number, { definition }: ComponentContext): string {
  const away = definition.stations.map(({ station, angle }) => {
    const turn = direction - (angle * 180) / Math.PI;
    return { station, turn: turn - 360 * Math.round(turn / 360) };
  });
  const [near, next] = away.sort((a, b) => Math.abs(a.turn) - Math.abs(b.turn));
  if (near === undefined) return '';
  if (next === undefined || Math.abs(near.turn) < 0.3 * (Math.abs(near.turn) + Math.abs(next.turn)))
    return `towards station ${near.station}`;
  return `towards a place between stations ${near.station} and ${next.station}`;
}
