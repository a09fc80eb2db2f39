import { formatCount } from '../../format/format.ts';
import { type Camera, nearer, turned } from './camera.ts';

interface SceneToolsProps {
  readonly magnification: number;
  readonly fitting: number;
  /** Null: the fitting one. */
  readonly onMagnification: (magnification: number | null) => void;
  readonly onCamera: (change: Camera | ((now: Camera) => Camera)) => void;
  /** Looks at the selected station; null where it is not drawn. */
  readonly onStation: (() => void) | null;
  readonly views: readonly (readonly [title: string, camera: Camera])[];
  readonly onSave: () => void;
}

const [LEAST, MOST] = [1, 100_000];

/** Everything that the mouse does in the drawing, as buttons. */
export function SceneTools(props: SceneToolsProps) {
  const { magnification, fitting, onMagnification, onCamera, onStation, views, onSave } = props;
  const moves: readonly (readonly [string, string, (now: Camera) => Camera])[] = [
    ['←', 'Turn left', (now) => turned(now, -15, 0)],
    ['→', 'Turn right', (now) => turned(now, 15, 0)],
    ['↑', 'Turn up', (now) => turned(now, 0, 15)],
    ['↓', 'Turn down', (now) => turned(now, 0, -15)],
    ['+', 'Nearer', (now) => nearer(now, 1.25)],
    ['−', 'Farther', (now) => nearer(now, 0.8)],
  ];
  return (
    <div className="scene-tools">
      <label className="times">
        ×
        <input
          type="number"
          min={LEAST}
          max={MOST}
          step={50}
          value={magnification}
          aria-label="Magnification of the displacements"
          onChange={(event) => {
            const value = event.target.valueAsNumber;
            if (value >= LEAST && value <= MOST) onMagnification(Math.round(value));
          }}
        />
      </label>
      <button
        type="button"
        className="button quiet"
        disabled={magnification === fitting}
        onClick={() => onMagnification(null)}
      >
        Fit ×{formatCount(fitting)}
      </button>
      {views.map(([title, camera]) => (
        <button key={title} type="button" className="button" onClick={() => onCamera(camera)}>
          {title}
        </button>
      ))}
      <button type="button" className="button" disabled={onStation === null} onClick={() => onStation?.()}>
        Station
      </button>
      <span className="moves">
        {moves.map(([sign, title, move]) => (
          <button
            key={title}
            type="button"
            className="button quiet tool"
            aria-label={title}
            title={title}
            onClick={() => onCamera(move)}
          >
            {sign}
          </button>
        ))}
      </span>
      <button type="button" className="button quiet tool" aria-label="Save the view as PNG" onClick={onSave}>
        PNG
      </button>
    </div>
  );
}
