// SPDX-License-Identifier: Apache-2.0
// Bars lie, so that words stand upright and a long list only grows downward. Bars and line share one axis, the
// share of all: the line touches the first bar's end and reaches the right edge at exactly the whole.
import { useEffect, useRef, useState } from "preact/hooks";
import { number, percent } from "../words/measures.js";
import { say } from "../words/say.js";
import type { Bar } from "./pareto_view.js";

const ROW_PX = 58;
const BAR_PX = 30;
const TOP_PX = 12;
const AXIS_PX = 76;
const EDGE_PX = 44;
const TICKS = [0, 0.2, 0.4, 0.6, 0.8, 1] as const;

export interface ChartBar extends Bar {
  readonly words: string;
  /** What the bar stands for: its marks or its pieces. */
  readonly value: number;
}

interface ParetoChartProps {
  readonly bars: readonly ChartBar[];
  /** The rows of the table beside are the same keys, for hands and readers that need keys. */
  readonly onBar: ((bar: ChartBar) => void) | undefined;
}

export function ParetoChart({ bars, onBar }: ParetoChartProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const isNarrow = width < 560;
  const left = isNarrow ? 8 : 300;
  const row = isNarrow ? ROW_PX + 34 : ROW_PX;
  const plot = Math.max(60, width - left - EDGE_PX);
  const height = TOP_PX + bars.length * row + AXIS_PX;
  const x = (share: number): number => left + share * plot;
  const middle = (place: number): number => TOP_PX + (place + 1) * row - ROW_PX / 2;
  const line = bars.map((bar, place) => `${x(bar.cumulative)},${middle(place)}`).join(" ");
  return (
    <div class="pareto-chart" ref={box}>
      {width > 0 && (
        <svg role="img" aria-label={say("pareto.chart")} width={width} height={height}>
          <Axis x={x} top={TOP_PX} bottom={height - AXIS_PX} />
          {bars.map((bar, place) => (
            <g
              key={`${bar.sort} ${bar.name}`}
              class={onBar && "can-narrow"}
              onClick={onBar && (() => onBar(bar))}
            >
              <rect class="row" x={0} y={middle(place) + ROW_PX / 2 - row} width={width} height={row} />
              <BarWords bar={bar} left={left} middle={middle(place)} isNarrow={isNarrow} />
              <rect
                class={`bar is-${bar.sort}`}
                x={left}
                y={middle(place) - BAR_PX / 2}
                width={Math.max(2, bar.share * plot)}
                height={BAR_PX}
              >
                <title>
                  {say("pareto.bar", {
                    name: bar.words,
                    count: bar.value,
                    cumulative: percent(bar.cumulative),
                  })}
                </title>
              </rect>
            </g>
          ))}
          <polyline class="cumulative-halo" points={line} />
          <polyline class="cumulative" points={line} />
          {bars.map((bar, place) => (
            <circle
              key={`${bar.sort} ${bar.name}`}
              class="point"
              cx={x(bar.cumulative)}
              cy={middle(place)}
              r={6}
            />
          ))}
        </svg>
      )}
    </div>
  );
}

interface AxisProps {
  readonly x: (share: number) => number;
  readonly top: number;
  readonly bottom: number;
}

function Axis({ x, top, bottom }: AxisProps) {
  const span = x(1) - x(0);
  const shown = span < 420 ? [0, 1] : TICKS;
  return (
    <g class="axis">
      {TICKS.map((tick) => (
        <line key={tick} x1={x(tick)} x2={x(tick)} y1={top} y2={bottom} />
      ))}
      {shown.map((tick) => (
        <text key={tick} x={x(tick)} y={bottom + 30} text-anchor={anchorOf(tick)}>
          {percent(tick).replace(/[.,]0/, "")}
        </text>
      ))}
      <text x={x(1)} y={bottom + 62} text-anchor="end">
        {say("pareto.axis")}
      </text>
    </g>
  );
}

function anchorOf(tick: number): "start" | "middle" {
  return tick === 0 ? "start" : "middle";
}

interface BarWordsProps {
  readonly bar: ChartBar;
  readonly left: number;
  readonly middle: number;
  readonly isNarrow: boolean;
}

function BarWords({ bar, left, middle, isNarrow }: BarWordsProps) {
  if (isNarrow) {
    return (
      <text x={left} y={middle - BAR_PX / 2 - 8}>
        {bar.words}: {number(bar.value)}
      </text>
    );
  }
  return (
    <>
      <text x={0} y={middle + 9}>
        {bar.words}
      </text>
      <text class="value" x={left - 14} y={middle + 10} text-anchor="end">
        {number(bar.value)}
      </text>
    </>
  );
}

function useWidth(box: { readonly current: HTMLElement | null }): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = box.current;
    if (element === null) return undefined;
    const observer = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)));
    observer.observe(element);
    return () => observer.disconnect();
  }, [box]);
  return width;
}
