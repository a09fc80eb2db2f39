import { type ReactNode, useState } from 'react';
import { EVERY_TOOL, MEASURED_STATE, type WhatIfState } from '../../../shared-math/what-if/state.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { roundStep } from '../../chart/scale.ts';
import { toDisplay, type Units, unitSymbol } from '../../format/format.ts';
import { LimitRows } from './limit-rows.tsx';
import { benchLimits } from './limits.ts';
import { NumberField, SettingRow } from './setting-row.tsx';
import {
  type BenchSetting,
  benchTools,
  hubSettings,
  indexSetting,
  toolSettings,
  withDropped,
} from './settings.ts';

interface BenchControlsProps {
  readonly disc: ReducedDisc;
  readonly state: WhatIfState;
  readonly units: Units;
  readonly selected: number | null;
  readonly onChange: (state: WhatIfState, running: string | null) => void;
  readonly onSettle: () => void;
  readonly children?: ReactNode;
}

/** Everything that can be tried, in groups. */
export function BenchControls(props: BenchControlsProps) {
  const { disc, state, units, selected, onChange, onSettle } = props;
  const tools = benchTools(disc);
  const row = (setting: BenchSetting) => (
    <SettingRow key={setting.key} {...{ setting, state, units, onChange, onSettle }} />
  );
  const hub = hubSettings(disc);
  const planLimits = benchLimits(disc, MEASURED_STATE).length > 0;
  return (
    <section className="bench-controls panel" aria-label="Settings to try">
      <Group title="Hub seating" set={count(hub, state)} open>
        {hub.map(row)}
      </Group>
      {tools.map((tool) => {
        const settings = toolSettings(disc, tool);
        return (
          <Group
            key={tool}
            title={tool === EVERY_TOOL ? 'Tool offset' : `Tool ${tool}`}
            set={count(settings, state)}
            open={tools.length === 1}
          >
            {settings.map(row)}
          </Group>
        );
      })}
      <Group title="Station" set={Object.keys(state.index).length + state.dropped.length} open>
        {selected === null ? (
          <p className="control-note">Select a station to turn it or to leave it out.</p>
        ) : (
          <>
            {row({ ...indexSetting(disc, selected), label: `Index, ${selected}` })}
            <label className="bench-check">
              <input
                type="checkbox"
                checked={state.dropped.includes(selected)}
                onChange={(event) => onChange(withDropped(state, selected, event.target.checked), null)}
              />
              Leave station {selected} out
            </label>
          </>
        )}
      </Group>
      <Group title="Tolerance" set={state.tolerance === null ? 0 : 1} open>
        <Tolerance {...props} />
      </Group>
      <Group title="Limits of errors" set={Object.keys(state.limits).length} open={planLimits}>
        <LimitRows {...{ disc, state, units, onChange, onSettle }} />
      </Group>
      {props.children}
    </section>
  );
}

function count(settings: readonly BenchSetting[], state: WhatIfState): number {
  return settings.filter((setting) => setting.value(state) !== 0).length;
}

interface GroupProps {
  readonly title: string;
  /** How many of its settings are changed. */
  readonly set: number;
  readonly open?: boolean;
  readonly children: ReactNode;
}

export function Group({ title, set, open = false, children }: GroupProps) {
  const [shown, setShown] = useState(open);
  return (
    <details className="bench-group" open={shown} onToggle={(event) => setShown(event.currentTarget.open)}>
      <summary>
        {title}
        {set > 0 && <span className="set-count">{set} changed</span>}
      </summary>
      {children}
    </details>
  );
}

function Tolerance({ disc, state, units, onChange, onSettle }: BenchControlsProps) {
  const planned = disc.plan.tolerance;
  const value = state.tolerance ?? planned;
  const factor = toDisplay(1, 'size', units);
  const step = roundStep((planned * factor) / 50);
  const set = (shown: number) => {
    if (!(shown > 0)) return;
    const tolerance = shown / factor;
    onChange({ ...state, tolerance: Math.abs(tolerance - planned) < 1e-9 ? null : tolerance }, 'tolerance');
  };
  return (
    <div className={`setting-row ${state.tolerance === null ? '' : 'set'}`}>
      <label htmlFor="what-if-tolerance">Position</label>
      <input
        id="what-if-tolerance"
        type="range"
        min={step}
        max={2 * planned * factor}
        step={step}
        value={value * factor}
        onChange={(event) => set(event.target.valueAsNumber)}
        onPointerUp={onSettle}
        onBlur={onSettle}
      />
      <NumberField
        label={`Position tolerance, ${unitSymbol('size', units)}`}
        value={value * factor}
        step={step}
        onValue={set}
        onSettle={onSettle}
      />
      <span className="unit">{unitSymbol('size', units)}</span>
    </div>
  );
}
