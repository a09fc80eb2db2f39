/** Where the points of a row belong: the block of a planned feature, or nowhere and why. */

import type { PartDefinition } from '../../shared-math/definition.ts';
import { sentenceOf } from '../../shared-math/notes/english.ts';
import type { Note } from '../../shared-math/notes/notes.ts';
import { nearest } from '../nearest.ts';
import { shorten } from '../problems.ts';
import { GrowingBlock } from './growing-block.ts';
import { anchored, detectPattern, matchLabel, stationNumber } from './label-pattern.ts';
import { StationCells } from './station-cells.ts';

export type PointTarget =
  | { readonly kind: 'block'; readonly block: GrowingBlock }
  /** The plan does not know this feature or station: the row is left out and listed. */
  | { readonly kind: 'excluded'; readonly reason: string; readonly note: Note }
  /** A label that means nothing: the file is refused. */
  | { readonly kind: 'refused'; readonly label: string };

export class PointTargets {
  readonly blocks: GrowingBlock[] = [];
  readonly #stations: number;
  readonly #stationCells: StationCells;
  readonly #hub: ReadonlySet<string>;
  readonly #blade: ReadonlySet<string>;
  #labelPattern: string | null;
  #pattern: RegExp | null;
  readonly #byNames = new Map<string, Map<string, PointTarget>>();
  readonly #byLabel = new Map<string, PointTarget>();
  readonly #blockOf = new Map<string, PointTarget>();

  /** @param labelPattern null: the first label that holds a planned station and feature, or the first station cell, tells it. */
  constructor(definition: PartDefinition, labelPattern: string | null) {
    this.#stations = definition.stations.length;
    this.#stationCells = new StationCells(labelPattern, this.#stations);
    this.#hub = new Set(definition.hubDatums.flatMap((datum) => datum.features));
    this.#blade = new Set(definition.bladeDatums.flatMap((datum) => datum.features));
    this.#labelPattern = labelPattern;
    this.#pattern = labelPattern === null ? null : anchored(labelPattern);
  }

  /** The pattern given or found, of labels. */
  get labelPattern(): string | null {
    return this.#labelPattern;
  }

  /** The pattern given or found, of cells that hold a station alone; null where they are plain numbers. */
  get stationPattern(): string | null {
    return this.#stationCells.pattern;
  }

  /** Target of a row with separate cells, by their text as it stands in the file. */
  byNames(station: string, feature: string): PointTarget {
    let features = this.#byNames.get(station);
    if (features === undefined) {
      features = new Map();
      this.#byNames.set(station, features);
    }
    let target = features.get(feature);
    if (target === undefined) {
      const text = station.trim();
      const number = text === '' ? null : this.#stationCells.stationOf(text);
      target = this.#resolve(text, number, feature.trim());
      features.set(feature, target);
    }
    return target;
  }

  /** Target of a row whose label holds both. */
  byLabel(cell: string): PointTarget {
    let target = this.#byLabel.get(cell);
    if (target === undefined) {
      target = this.#resolveLabel(cell.trim());
      this.#byLabel.set(cell, target);
    }
    return target;
  }

  /** The planned station (null: the hub) of a row that is too short to be read further; undefined: unknown. */
  ownerOf(cell: string, isLabel: boolean): number | null | undefined {
    const text = cell.trim();
    const match = isLabel && this.#pattern !== null ? matchLabel(this.#pattern, text) : null;
    if (isLabel && match === null) return this.#hub.has(text) ? null : undefined;
    if (match !== null) return stationNumber(match.station, this.#stations) ?? undefined;
    return text === '' ? null : (this.#stationCells.stationOf(text) ?? undefined);
  }

  #resolveLabel(label: string): PointTarget {
    if (this.#pattern === null) {
      this.#labelPattern = detectPattern([label], this.#blade, this.#stations);
      if (this.#labelPattern !== null) this.#pattern = anchored(this.#labelPattern);
    }
    const match = this.#pattern === null ? null : matchLabel(this.#pattern, label);
    if (match !== null) {
      const station = stationNumber(match.station, this.#stations);
      const target = this.#resolve(match.station, station, match.feature);
      // A hub feature may look like a blade's label by chance.
      if (target.kind === 'block' || !this.#hub.has(label)) return target;
    }
    if (this.#hub.has(label)) return this.#blockFor(null, label);
    return { kind: 'refused', label };
  }

  #resolve(stationText: string, station: number | null, feature: string): PointTarget {
    if (stationText === '') {
      if (this.#hub.has(feature)) return this.#blockFor(null, feature);
      if (this.#blade.has(feature)) return excluded({ code: 'station-cell-empty', values: { feature } });
      return this.#unknownFeature(feature, this.#hub, 'hub');
    }
    if (station === null)
      return excluded({
        code: 'unknown-station',
        values: { station: shorten(stationText), last: this.#stations },
      });
    if (this.#blade.has(feature)) return this.#blockFor(station, feature);
    if (this.#hub.has(feature))
      return excluded({ code: 'hub-feature-at-station', values: { feature, station } });
    return this.#unknownFeature(feature, this.#blade, 'blade');
  }

  #unknownFeature(feature: string, known: ReadonlySet<string>, owner: 'hub' | 'blade'): PointTarget {
    const names = [...known];
    return excluded({
      code: 'unknown-feature',
      values: { owner, feature: shorten(feature), near: nearest(feature, names), known: names },
    });
  }

  #blockFor(station: number | null, feature: string): PointTarget {
    const key = `${station ?? ''}\n${feature}`;
    let target = this.#blockOf.get(key);
    if (target === undefined) {
      const block = new GrowingBlock(station, feature);
      this.blocks.push(block);
      target = { kind: 'block', block };
      this.#blockOf.set(key, target);
    }
    return target;
  }
}

function excluded(note: Note): PointTarget {
  return { kind: 'excluded', reason: sentenceOf(note), note };
}
