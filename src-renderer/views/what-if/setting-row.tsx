import { useEffect, useId, useState } from 'react';
import type { WhatIfState } from '../../../shared-math/what-if/state.ts';
import { formatLimit, toDisplay, type Units, unitSymbol } from '../../format/format.ts';
import { type BenchSetting, stepOf } from './settings.ts';

interface SettingRowProps {
  readonly setting: BenchSetting;
  readonly state: WhatIfState;
  readonly units: Units;
  /** `running`: more of the same may follow. */
  readonly onChange: (state: WhatIfState, running: string) => void;
  readonly onSettle: () => void;
}

/** A setting as slider and number; either takes arrow keys. */
export function SettingRow({ setting, state, units, onChange, onSettle }: SettingRowProps) {
  const { key, label, kind, reach, range } = setting;
  const id = useId();
  const value = setting.value(state);
  const factor = toDisplay(1, kind, units);
  const step = stepOf(setting, units);
  const end = Math.max(range?.limit ?? reach, Math.abs(value));
  const tooFar = range?.limit != null && Math.abs(value) > range.limit * (1 + 1e-9);
  const set = (shown: number) => {
    if (Number.isFinite(shown)) onChange(setting.with(state, shown / factor), key);
  };
  return (
    <div className={`setting-row ${value === 0 ? '' : 'set'}`}>
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="range"
        min={-end * factor}
        max={end * factor}
        step={step}
        value={value * factor}
        aria-valuetext={`${rounded(value * factor, step)} ${unitSymbol(kind, units)}`}
        onChange={(event) => set(snapped(event.target.valueAsNumber, step))}
        onPointerUp={onSettle}
        onBlur={onSettle}
        onDoubleClick={() => set(0)}
      />
      <NumberField
        label={`${label}, ${unitSymbol(kind, units)}`}
        value={value * factor}
        step={step}
        onValue={set}
        onSettle={onSettle}
      />
      <span className="unit">{unitSymbol(kind, units)}</span>
      {tooFar && (
        <p className="setting-note">
          beyond ±{formatLimit(range?.limit ?? 0, kind, units)}, which the plan can set
        </p>
      )}
    </div>
  );
}

interface NumberFieldProps {
  readonly label: string;
  readonly value: number;
  readonly step: number;
  readonly disabled?: boolean;
  readonly onValue: (value: number) => void;
  readonly onSettle: () => void;
}

/** Keeps what is typed until it is a number, and follows the state otherwise. */
export function NumberField(props: NumberFieldProps) {
  const { label, value, step, disabled = false, onValue, onSettle } = props;
  const shown = rounded(value, step);
  const [text, setText] = useState(shown);
  const [typing, setTyping] = useState(false);
  useEffect(() => {
    if (!typing) setText(shown);
  }, [shown, typing]);
  return (
    <input
      type="number"
      aria-label={label}
      step={step}
      disabled={disabled}
      value={typing ? text : shown}
      onFocus={() => setTyping(true)}
      onChange={(event) => {
        setText(event.target.value);
        if (event.target.value !== '') onValue(event.target.valueAsNumber);
      }}
      onBlur={() => {
        setTyping(false);
        onSettle();
      }}
    />
  );
}

/** With the decimals of its step, and one more for values between steps. */
function rounded(value: number, step: number): string {
  const decimals = Math.max(0, Math.ceil(-Math.log10(step))) + 1;
  return String(Number(value.toFixed(decimals)));
}

/** Sliders count from their end; steps count from zero. */
function snapped(value: number, step: number): number {
  return Math.round(value / step) * step;
}
