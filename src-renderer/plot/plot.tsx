import type { Data, Layout, PlotlyHTMLElement, PlotMouseEvent } from 'plotly.js/lib/core';
import { type Ref, useImperativeHandle, useLayoutEffect, useRef } from 'react';
import { useSize } from '../chart/use-size.ts';
import { afterPaint, asNextTask } from '../state/after-paint.ts';
import { plotConfig } from './plot-config.ts';
import { Plotly } from './plotly.ts';
import './plot.css';

export interface PlotHandle {
  /** Data address of the picture. */
  readonly picture: (format: 'png' | 'svg') => Promise<string>;
}

export interface Figure {
  readonly data: readonly Data[];
  readonly layout: Partial<Layout>;
}

interface PlotProps extends Figure {
  /** What saved pictures show, where the page draws a part of it beside the plot. */
  readonly pictured?: () => Figure;
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

/** The one wrapper of the plot library: draws on change, follows the size of its box, hands out pictures. */
export function Plot(props: PlotProps) {
  const { data, layout, pictured, pictureTitle, pictureGround, onPick, onMoved, handle } = props;
  const [box, size] = useSize<HTMLDivElement>();
  /** The drawing that is under way or done; null before the first. */
  const drawing = useRef<Promise<unknown> | null>(null);
  const pick = useRef(onPick);
  pick.current = onPick;
  const moved = useRef(onMoved);
  moved.current = onMoved;

  useLayoutEffect(() => {
    const element = box.current;
    if (element === null || size.width === 0 || size.height === 0) return;
    const draw = (): void => {
      const isFirst = drawing.current === null;
      // The size is given, since the library would ask the whole page's layout for it, and once more after a while.
      drawing.current = Plotly.react(element, [...data], { ...layout, ...size }, plotConfig);
      if (!isFirst) return;
      const graph = element as unknown as PlotlyHTMLElement;
      graph.on('plotly_click', (event: PlotMouseEvent) => pick.current?.(event.points[0]?.customdata));
      graph.on('plotly_relayout', (change) => moved.current?.(change as Record<string, unknown>));
    };
    // What the page shows of a change comes first, the plot in the frame after it; of changes in a row the last one counts.
    // A first plot belongs to the first picture, but is a task of its own, so that the page can answer in between.
    return drawing.current === null ? asNextTask(draw) : afterPaint(draw);
  }, [box, data, layout, size]);

  useLayoutEffect(() => {
    const element = box.current;
    return () => {
      // Let go in the middle of a drawing, the library would fail at its end.
      void drawing.current?.finally(() => {
        if (element !== null && !element.isConnected) Plotly.purge(element);
      });
    };
  }, [box]);

  useImperativeHandle(handle, () => ({
    picture: (format) => {
      const shown = pictured?.() ?? { data, layout };
      const figure = {
        data: [...shown.data],
        layout: {
          ...shown.layout,
          paper_bgcolor: pictureGround,
          title: { text: pictureTitle, x: 0.5, y: 0.975, font: { size: 15 } },
          margin: { ...shown.layout.margin, t: (shown.layout.margin?.t ?? 0) + TITLE_ROOM },
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
