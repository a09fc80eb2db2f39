import { formatLimitWithUnit } from '../../format/format.ts';
import type { DiagnosisProps } from '../causes/topics.ts';
import { calculatorCards } from './calculations.ts';
import { CalculatorCard } from './calculator-card.tsx';
import { ConversionCard } from './conversion-card.tsx';
import './calculator.css';

/** For lines of the budget that no point can show. Nothing that is calculated here changes the plan or a result. */
export function CalculatorView({ diagnosis, units }: DiagnosisProps) {
  const hidden = diagnosis.budget.lines.filter((line) => line.components.length === 0);
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
                ({ title, allocated, found }) =>
                  `${title} (${allocated === null ? 'not allocated' : `allocated ${formatLimitWithUnit(allocated, 'size', units)}`}, ${
                    found === null ? 'none found' : `found ${formatLimitWithUnit(found.value, 'size', units)}`
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
