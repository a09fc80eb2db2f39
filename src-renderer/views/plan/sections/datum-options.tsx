import { useId } from 'react';
import { isBlock, type Json, type Path, textAt, valueAt } from '../draft.ts';
import { NumberInput } from '../fields/number-input.tsx';
import { associationChoices } from '../fields.ts';
import { usePlanContext } from '../plan-context.tsx';
import { Choice } from './choice.tsx';

interface DatumOptionsProps {
  readonly path: Path;
  readonly datum: Json;
}

/** What most datums leave to the plan: association, clocking, weights, screen. */
export function DatumOptions({ path, datum }: DatumOptionsProps) {
  const { put } = usePlanContext();
  const id = useId();
  const type = textAt(datum, ['type']);
  return (
    <details>
      <summary>Association and clocking</summary>
      <div className="more">
        <Choice
          id={`${id}-a`}
          label="Association"
          value={textAt(datum, ['association'])}
          onValue={(next) => put([...path, 'association'], next)}
          choices={associationChoices.map(([choice, word]) => [String(choice ?? ''), word] as const)}
        />
        {type !== 'pattern' && (
          <Choice
            id={`${id}-c`}
            label="Clocks the frame by"
            value={textAt(datum, ['clocking'])}
            onValue={(next) => put([...path, 'clocking'], next)}
            choices={[
              ['', 'Usual for the type'],
              ['direction', 'Its direction'],
              ['location', 'Its location'],
            ]}
          />
        )}
        <Choice
          id={`${id}-w`}
          label="Weights"
          value={textAt(datum, ['weights'])}
          onValue={(next) => put([...path, 'weights'], next)}
          choices={[
            ['', 'As the plan'],
            ['equal', 'All alike'],
            ['sigma', 'By sigma'],
          ]}
        />
        <Choice
          id={`${id}-s`}
          label="Screen for wild points"
          value={valueAt(datum, ['screen']) === null ? 'none' : textAt(datum, ['screen', 'method'])}
          onValue={(next) =>
            put(
              [...path, 'screen'],
              next === undefined
                ? undefined
                : next === 'none'
                  ? null
                  : { ...blockOf(valueAt(datum, ['screen'])), method: next },
            )
          }
          choices={[
            ['', 'As the plan'],
            ['none', 'None'],
            ['huber', 'Huber'],
            ['biweight', 'Biweight'],
          ]}
        />
        {isBlock(valueAt(datum, ['screen'])) && (
          <>
            <span className="small-field">
              <label htmlFor={`${id}-k`}>Flag beyond</label>
              <span className="with-unit">
                <NumberInput
                  id={`${id}-k`}
                  value={valueAt(datum, ['screen', 'cutoff'])}
                  onValue={(next) => put([...path, 'screen', 'cutoff'], next)}
                />
                <span className="unit">robust σ</span>
              </span>
            </span>
            <Choice
              id={`${id}-x`}
              label="Flagged points"
              value={valueAt(datum, ['screen', 'exclude']) === true ? 'true' : ''}
              onValue={(next) => put([...path, 'screen', 'exclude'], next === 'true' ? true : undefined)}
              choices={[
                ['', 'Stay in'],
                ['true', 'Are left out'],
              ]}
            />
          </>
        )}
      </div>
    </details>
  );
}

function blockOf(value: Json | undefined): { readonly [key: string]: Json } {
  return isBlock(value) ? value : {};
}
