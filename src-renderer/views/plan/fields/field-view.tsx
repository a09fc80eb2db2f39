import { useId } from 'react';
import type { Problem } from '../../../../src-main/api.ts';
import { isBlock, type Json, parsePath, valueAt } from '../draft.ts';
import type { ChoiceField, Field, NumberField, TextField, VectorField } from '../fields.ts';
import { usePlanContext } from '../plan-context.tsx';
import { NumberInput } from './number-input.tsx';
import './fields.css';

/** Any single value of the plan with its unit, its explanation and what is wrong with it. */
export function FieldView({ field }: { readonly field: Field }) {
  switch (field.kind) {
    case 'text':
      return <TextView field={field} />;
    case 'number':
      return <NumberView field={field} />;
    case 'choice':
      return <ChoiceView field={field} />;
    case 'vector':
      return <VectorView field={field} />;
  }
}

export function FieldGrid({ fields }: { readonly fields: readonly Field[] }) {
  return (
    <div className="field-grid">
      {fields.map((field) => (
        <FieldView key={field.path} field={field} />
      ))}
    </div>
  );
}

function useField(field: Field) {
  const { draft, put, problemsUnder, onFocus, focus } = usePlanContext();
  const idle = field.idle?.(draft) ?? null;
  const id = useId();
  const path = parsePath(field.path);
  const [problem] = problemsUnder(field.path);
  return {
    id,
    path,
    /** Why it cannot be changed as the plan stands. */
    idle,
    value: valueAt(draft, path),
    put: (value: Json | undefined) => put(path, value),
    fault: problem === undefined ? null : faultText(field.kind, problem),
    isFocused: focus === field.path,
    onFocus: () => onFocus(field.path),
  };
}

/** What the field needs, in the words of the check. */
function faultText(kind: Field['kind'], { code, expected, message }: Problem): string {
  if (code === 'missing-key' && kind === 'choice') return 'Needed: one of these';
  if (expected === undefined) return message;
  return code === 'missing-key' ? `Needed: ${expected}` : `Expected: ${expected}`;
}

interface FrameProps {
  readonly field: Field;
  readonly id: string;
  /** Said instead of the hint. */
  readonly idle?: string | null;
  readonly fault: string | null;
  readonly isFocused: boolean;
  readonly group?: boolean;
  readonly children: React.ReactNode;
}

function Frame({ field, id, idle = null, fault, isFocused, group = false, children }: FrameProps) {
  const title = group ? (
    <legend className="field-label">{field.label}</legend>
  ) : (
    <label className="field-label" htmlFor={id}>
      {field.label}
    </label>
  );
  const body = (
    <>
      {title}
      {children}
      <p className="field-hint" id={`${id}-hint`}>
        {idle ?? field.hint}
      </p>
      {fault !== null && (
        <p className="field-fault" id={`${id}-fault`}>
          {fault}
        </p>
      )}
    </>
  );
  const name = `field ${field.kind}${fault === null ? '' : ' faulty'}${isFocused ? ' focused' : ''}`;
  return group ? (
    <fieldset className={name} data-path={field.path}>
      {body}
    </fieldset>
  ) : (
    <div className={name} data-path={field.path}>
      {body}
    </div>
  );
}

/** A value without effect can only go. */
function TakeOut({ onTakeOut }: { readonly onTakeOut: () => void }) {
  return (
    <button type="button" className="button quiet" onClick={onTakeOut}>
      Take out
    </button>
  );
}

const described = (id: string, fault: string | null): string =>
  fault === null ? `${id}-hint` : `${id}-hint ${id}-fault`;

function TextView({ field }: { readonly field: TextField }) {
  const { id, value, put, fault, isFocused, onFocus } = useField(field);
  return (
    <Frame field={field} id={id} fault={fault} isFocused={isFocused}>
      <input
        id={id}
        type="text"
        value={typeof value === 'string' ? value : ''}
        placeholder={field.example}
        aria-describedby={described(id, fault)}
        aria-invalid={fault !== null}
        onFocus={onFocus}
        onChange={(event) => put(event.target.value === '' ? undefined : event.target.value)}
      />
    </Frame>
  );
}

function NumberView({ field }: { readonly field: NumberField }) {
  const { id, idle, value, put, fault, isFocused, onFocus } = useField(field);
  const also = field.also !== undefined && typeof value === 'number' ? field.also(value) : null;
  return (
    <Frame field={field} id={id} idle={idle} fault={fault} isFocused={isFocused}>
      <span className="with-unit">
        <NumberInput
          id={id}
          value={value}
          onValue={put}
          onFocus={onFocus}
          unit={field.unit}
          describedBy={described(id, fault)}
          isFaulty={fault !== null}
          isIdle={idle !== null}
        />
        {idle !== null && value !== undefined && <TakeOut onTakeOut={() => put(undefined)} />}
        {field.unit !== '' && <span className="unit">{field.unit}</span>}
        {also !== null && <span className="also">= {also}</span>}
      </span>
    </Frame>
  );
}

/** Keys that their block hangs on. */
const blockKeys: ReadonlySet<string> = new Set(['temperature.applied', 'screen.method', 'decision.rule']);

function ChoiceView({ field }: { readonly field: ChoiceField }) {
  const { id, path, value, put, fault, isFocused, onFocus } = useField(field);
  const { put: putAt } = usePlanContext();
  const now = value === undefined ? null : value;
  const chosen = field.choices.find(([choice]) => choice === now);
  const choose = (choice: string | boolean | null): void => {
    const [owner] = path;
    // "Not stated" there takes the block away.
    if (choice !== null) put(choice);
    else if (blockKeys.has(field.path)) putAt([owner ?? ''], undefined);
    else put(undefined);
  };
  return (
    <Frame field={field} id={id} fault={fault} isFocused={isFocused} group>
      <span className="choices">
        {field.choices.map(([choice, text, meaning]) => (
          <label key={String(choice)} title={meaning} className={choice === now ? 'chosen' : ''}>
            <input
              type="radio"
              name={id}
              checked={choice === now}
              aria-describedby={described(id, fault)}
              onFocus={onFocus}
              onChange={() => choose(choice)}
            />
            {text}
          </label>
        ))}
      </span>
      <p className="meaning">{chosen?.[2] ?? ''}</p>
    </Frame>
  );
}

function VectorView({ field }: { readonly field: VectorField }) {
  const { id, idle, value, put, fault, isFocused, onFocus } = useField(field);
  return (
    <Frame field={field} id={`${id}-0`} idle={idle} fault={fault} isFocused={isFocused} group>
      <VectorInput
        id={id}
        value={value}
        onValue={put}
        axes={field.axes}
        unit={field.unit}
        label={field.label}
        onFocus={onFocus}
        describedBy={described(`${id}-0`, fault)}
        isFaulty={fault !== null}
        isIdle={idle !== null}
      />
      {idle !== null && value !== undefined && <TakeOut onTakeOut={() => put(undefined)} />}
    </Frame>
  );
}

interface VectorInputProps {
  readonly id: string;
  readonly value: Json | undefined;
  readonly onValue: (value: Json | undefined) => void;
  readonly axes: readonly [string, string, string];
  readonly unit: string;
  readonly label: string;
  readonly onFocus?: () => void;
  readonly describedBy?: string;
  readonly isFaulty?: boolean;
  readonly isIdle?: boolean;
}

/** Three numbers; an empty one beside filled ones stays empty in the plan, for the check to ask for it. */
export function VectorInput(props: VectorInputProps) {
  const { id, value, onValue, axes, unit, label, onFocus, describedBy, isFaulty, isIdle } = props;
  const parts: readonly (Json | undefined)[] =
    Array.isArray(value) && !isBlock(value) ? (value as Json[]) : [];
  return (
    <span className="vector-input">
      {axes.map((axis, at) => (
        <span key={axis} className="with-unit">
          <span className="axis" aria-hidden="true">
            {axis}
          </span>
          <NumberInput
            id={`${id}-${at}`}
            value={parts[at]}
            label={`${label}, ${axis}`}
            onFocus={onFocus ?? (() => {})}
            {...(describedBy === undefined ? {} : { describedBy })}
            isFaulty={isFaulty ?? false}
            isIdle={isIdle ?? false}
            onValue={(next) => {
              const all = axes.map((_, k) => (k === at ? (next ?? null) : (parts[k] ?? null)));
              onValue(all.every((part) => part === null) ? undefined : all);
            }}
          />
        </span>
      ))}
      {unit !== '' && <span className="unit">{unit}</span>}
    </span>
  );
}
