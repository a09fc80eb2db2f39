/** Tools and their age in the weld order. */

/** One weld: which station, when in the order, with which tool. */
export interface Weld {
  readonly station: number;
  readonly sequence: number;
  readonly tool: string;
}

export interface OrderedWeld extends Weld {
  /** Welds made with this tool before this one. */
  readonly age: number;
  /** Number of its tool in the order of first use, from 0. */
  readonly toolNumber: number;
}

export interface WeldOrder {
  readonly welds: readonly OrderedWeld[];
  /** Names in the order of first use. */
  readonly tools: readonly string[];
}

/** Puts the welds in order of their sequence; welds at stations that were not measured count in the age as well. */
export function orderWelds(welds: readonly Weld[]): WeldOrder {
  const tools: string[] = [];
  const ages: number[] = [];
  const ordered = [...welds]
    .sort((a, b) => a.sequence - b.sequence)
    .map(({ station, sequence, tool }): OrderedWeld => {
      let toolNumber = tools.indexOf(tool);
      if (toolNumber < 0) {
        toolNumber = tools.push(tool) - 1;
        ages.push(0);
      }
      const age = ages[toolNumber]!;
      ages[toolNumber] = age + 1;
      return { station, sequence, tool, age, toolNumber };
    });
  return { welds: ordered, tools };
}
