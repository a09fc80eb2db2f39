import type { Component, ComponentName } from '../../../shared-math/diagnosis/findings.ts';
import { Segmented } from '../../parts/segmented.tsx';
import type { Shown } from './arrows.ts';

interface ArrowsControlsProps {
  readonly components: readonly Component[];
  readonly leading: ComponentName | null;
  readonly shown: Shown;
  readonly onShown: (shown: Shown) => void;
  readonly magnification: number;
  readonly fitting: number;
  /** Null: the fitting one. */
  readonly onMagnification: (magnification: number | null) => void;
}

/** Ends of the slider, as powers of ten. */
const [LOWEST, HIGHEST] = [0, 5];

export function ArrowsControls(props: ArrowsControlsProps) {
  const { components, leading, shown, onShown, magnification, fitting, onMagnification } = props;
  const usable = components.filter((component) => component.stations.length > 0);
  const toggle = (name: ComponentName) =>
    onShown({
      ...shown,
      of: 'without',
      without: shown.without.includes(name)
        ? shown.without.filter((one) => one !== name)
        : [...shown.without, name],
    });
  return (
    <section className="arrows-controls panel" aria-label="What the arrows show">
      <h2>Show</h2>
      <Segmented
        title="Show"
        value={shown.of}
        onChange={(of) => {
          const first = leading ?? usable[0]?.name ?? null;
          const without = shown.without.length > 0 || first === null ? shown.without : [first];
          onShown({ of, without, alone: shown.alone ?? first });
        }}
        choices={[
          ['measured', 'Measured', 'As measured'],
          ['without', 'Without', 'Without the chosen components'],
          ['alone', 'Alone', 'A component alone'],
        ]}
      />
      <fieldset className="component-list" disabled={shown.of === 'measured'}>
        <legend className="caption">
          {shown.of === 'alone' ? 'Only this component' : 'Take out these components'}
        </legend>
        {usable.map((component) => (
          <label key={component.name} className={component.significant ? '' : 'muted'}>
            <input
              type={shown.of === 'alone' ? 'radio' : 'checkbox'}
              name="components"
              checked={
                shown.of === 'alone' ? shown.alone === component.name : shown.without.includes(component.name)
              }
              onChange={() =>
                shown.of === 'alone' ? onShown({ ...shown, alone: component.name }) : toggle(component.name)
              }
            />
            {component.title}
          </label>
        ))}
      </fieldset>
      <h2>Magnification</h2>
      <div className="magnify">
        <label>
          <span className="times">×</span>
          <input
            type="number"
            min={1}
            max={100000}
            step={50}
            value={magnification}
            aria-label="Magnification of the displacements"
            onChange={(event) => {
              const value = event.target.valueAsNumber;
              if (value >= 1 && value <= 100000) onMagnification(Math.round(value));
            }}
          />
        </label>
        <button
          type="button"
          className="button"
          onClick={() => onMagnification(null)}
          disabled={magnification === fitting}
        >
          Fit ×{fitting}
        </button>
      </div>
      <input
        type="range"
        min={LOWEST}
        max={HIGHEST}
        step={0.05}
        value={Math.log10(magnification)}
        aria-label="Magnification, by powers of ten"
        aria-valuetext={`times ${magnification}`}
        onChange={(event) => {
          const value = 10 ** event.target.valueAsNumber;
          const digits = 10 ** Math.max(0, Math.floor(Math.log10(value)) - 1);
          onMagnification(Math.max(1, Math.round(value / digits) * digits));
        }}
      />
      <p className="control-note">
        The geometry is to scale; displacements are drawn this many times as large.
      </p>
    </section>
  );
}
