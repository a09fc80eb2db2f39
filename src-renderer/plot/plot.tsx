import type { Data, Layout, PlotlyHTMLElement, PlotMouseEvent } from 'plotly.js/lib/core';
import { type Ref, useEffect, useImperativeHandle, useRef } from 'react';
import { plotConfig } from './plot-config.ts';
import { Plotly } from './plotly.ts';
import './plot.css';

export interface PlotHandle {
  /** Data address of the picture. */
  readonly picture: (format: 'png' | 'svg') => Promise<string>;
}

interface PlotProps {
  readonly data: readonly Data[];
  readonly layout: Partial<Layout>;
  /** Heading of saved pictures; the page has its own. */
  readonly pictureTitle: string;
  /** Ground of saved pictures; on the page the plot lets its panel show through. */
  readonly pictureGround: string;
  /** `customdata` of the clicked mark. */
  readonly onPick?: (customdata: unknown) => void;
  /** What the person has moved in the plot itself, by the paths of the library's layout. */
  readonly onMoved?: (change: Readonly<Record<string, unknown>>) => void;
  readonly handle?: Ref<PlotHandle>;
}

/** Size of saved pictures, whatever the window's is, and what of the height is for the title. */
const PICTURE_SIZE = 900;
const TITLE_ROOM = 30;

/** Runs after the next picture of the page; returns what calls it off. */
function afterPaint(work: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const frame = requestAnimationFrame(() => {
    timer = setTimeout(work);
  });
  return () => {
    cancelAnimationFrame(frame);
    clearTimeout(timer);
  };
}

/** The one wrapper of the plot library: draws on change, follows the size of its box, hands out pictures. */
export function Plot({ data, layout, pictureTitle, pictureGround, onPick, onMoved, handle }: PlotProps) {
  const box = useRef<HTMLDivElement>(null);
  const drawn = useRef(false);
  const pick = useRef(onPick);
  pick.current = onPick;
  const moved = useRef(onMoved);
  moved.current = onMoved;

  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const draw = (): void => void render(element);
    // What the page shows of a change comes first, the plot in the frame after it; of changes in a row the last one counts.
    if (drawn.current) return afterPaint(draw);
    draw();

    async function render(at: HTMLDivElement): Promise<void> {
      await Plotly.react(at, [...data], { ...layout, autosize: true }, plotConfig);
      if (drawn.current) return;
      drawn.current = true;
      const graph = at as unknown as PlotlyHTMLElement;
      graph.on('plotly_click', (event: PlotMouseEvent) => pick.current?.(event.points[0]?.customdata));
      graph.on('plotly_relayout', (change) => moved.current?.(change as Record<string, unknown>));
    }
  }, [data, layout]);

  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => {
      if (drawn.current && element.offsetParent !== null) void Plotly.Plots.resize(element);
    });
    observer.observe(element);
    return () => {
      observer.disconnect();
      drawn.current = false;
      Plotly.purge(element);
    };
  }, []);

  useImperativeHandle(handle, () => ({
    picture: (format) => {
      const figure = {
        data: [...data],
        layout: {
          ...layout,
          paper_bgcolor: pictureGround,
          title: { text: pictureTitle, x: 0.5, y: 0.975, font: { size: 15 } },
          margin: { ...layout.margin, t: (layout.margin?.t ?? 0) + TITLE_ROOM },
        },
        config: plotConfig,
      };
      return Plotly.toImage(figure, {
        format,
        width: PICTURE_SIZE,
        height: PICTURE_SIZE + TITLE_ROOM,
        scale: format === 'png' ? 2 : 1,
      });
    },
  }));

  return <div ref={box} className="plot" />;
}
