import { useState } from 'react';
import type { Json } from '../draft.ts';
import { parseQuantity } from './number-text.ts';

interface NumberInputProps {
  readonly id: string;
  readonly value: Json | undefined;
  readonly onValue: (value: number | undefined) => void;
  readonly onFocus?: () => void;
  /** Another unit may be written behind the number. */
  readonly unit?: string;
  readonly label?: string;
  readonly describedBy?: string;
  readonly isFaulty?: boolean;
  /** Without effect as things stand: not to be changed. */
  readonly isIdle?: boolean;
}

/** A number as text: what was typed stays as it is while it means the value of the plan. */
export function NumberInput(props: NumberInputProps) {
  const {
    id,
    value,
    onValue,
    onFocus,
    unit = '',
    label,
    describedBy,
    isFaulty = false,
    isIdle = false,
  } = props;
  const [typed, setTyped] = useState<string | null>(null);
  const meant = typed === null ? undefined : parseQuantity(typed, unit);
  const isUnread = meant === null && (value === undefined || value === null);
  const isTyped = typed !== null && (isUnread || (meant ?? null) === (value ?? null));
  const shown = isTyped ? typed : value === undefined || value === null ? '' : String(value);
  return (
    <>
      <input
        id={id}
        type="text"
        inputMode="decimal"
        autoComplete="off"
        spellCheck={false}
        value={shown}
        disabled={isIdle}
        aria-label={label}
        aria-describedby={describedBy}
        aria-invalid={isFaulty || isUnread}
        onFocus={onFocus}
        onChange={(event) => {
          setTyped(event.target.value);
          onValue(parseQuantity(event.target.value, unit) ?? undefined);
        }}
      />
      {isUnread && (
        <span className="unread" role="alert">
          not a number
        </span>
      )}
    </>
  );
}
