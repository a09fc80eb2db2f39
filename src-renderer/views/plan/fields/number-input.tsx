import { useState } from 'react';
import type { Json } from '../draft.ts';
import { parseQuantity } from './number-text.ts';

interface NumberInputProps {
  readonly id: string;
  readonly value: Json | undefined;
  /** A text that is no number goes into the plan as it is: the checks then name it, and nothing is reduced without it. */
  readonly onValue: (value: number | string | undefined) => void;
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
  const read = (text: string) => {
    const quantity = parseQuantity(text, unit);
    return quantity === null ? text : quantity;
  };
  const isUnread = typeof value === 'string';
  const isTyped = typed !== null && (read(typed) ?? null) === (value ?? null);
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
          onValue(read(event.target.value));
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
