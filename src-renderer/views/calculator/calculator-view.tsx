import type { BudgetDefinition } from '../../../shared-math/definition.ts';
import { formatLimitWithUnit, type Units } from '../../format/format.ts';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';
import { calculatorCards } from './calculations.ts';
import { CalculatorCard } from './calculator-card.tsx';
import { ConversionCard } from './conversion-card.tsx';
import './calculator.css';

interface CalculatorProps {
  /** Budget of the plan on view; null where there is none. */
  readonly budget: BudgetDefinition | null;
  readonly units: Units;
}

/** For lines of the budget that no point can show. Nothing that is calculated here changes the plan or a result. */
export function Calculator({ budget, units }: CalculatorProps) {
  const hidden = budget?.others ?? [];
  return (
    <div className="calculator">
      <section className="calculator-note panel" aria-label="About the calculator">
        <p>
          <b>For budget lines that no point can show.</b> Nothing here changes the plan or a result: a figure
          counts once it stands in the plan as <code>found</code> of its line.
        </p>
        {hidden.length > 0 && (
          <p>
            Lines of this plan:{' '}
            {hidden
              .map(
                ({ name, allocated, found }) =>
                  `${name} (${allocated === null ? 'not allocated' : `allocated ${formatLimitWithUnit(allocated, 'size', units)}`}, ${
                    found === null ? 'none found' : `found ${formatLimitWithUnit(found, 'size', units)}`
                  })`,
              )
              .join(', ')}
          </p>
        )}
      </section>
      {calculatorCards.map((card) => (
        <CalculatorCard key={card.name} card={card} />
      ))}
      <ConversionCard />
    </div>
  );
}

/** The calculator as a page of the causes. */
export function CalculatorView({ disc, units }: DiscWorkspaceProps) {
  return <Calculator budget={disc.definition.budget ?? null} units={units} />;
}
