/** A small emblem for each kind of sample: how the blades stand around the hub. Decoration only. */
const shapes: Record<string, { readonly shift: number; readonly drift: number }> = {
  conforming: { shift: 0, drift: 0 },
  'off-centre': { shift: 4, drift: 0 },
  drifting: { shift: 0, drift: 5 },
};

export function SampleDial({ id }: { readonly id: string }) {
  const { shift, drift } = shapes[id] ?? { shift: 0, drift: 0 };
  const blades = Array.from({ length: 18 }, (_, index) => {
    const angle = (index * Math.PI) / 9;
    const inner = 13 + (drift * index) / 18;
    const outer = 23 + (drift * index) / 18;
    const [x, y] = [Math.cos(angle), -Math.sin(angle)];
    return `M${(x * inner + shift).toFixed(2)} ${(y * inner).toFixed(2)} L${(x * outer + shift).toFixed(2)} ${(y * outer).toFixed(2)}`;
  });
  return (
    <svg className="sample-dial" viewBox="-30 -30 60 60" aria-hidden="true">
      <circle r="28" className="rim" />
      <circle r="9" className="hub" />
      <path d={blades.join(' ')} className="blades" />
    </svg>
  );
}
