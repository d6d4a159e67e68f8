// SPDX-License-Identifier: Apache-2.0
// Bars lie, so that words stand upright and a long list only grows downward. Bars and line share one axis, the
// share of all: the line touches the first bar's end and reaches the right edge at exactly the whole.
import { number, percent } from "../words/measures.js";
import { say } from "../words/say.js";
import { LINE_PX, rowsOf, type Row } from "./chart_rows.js";
import type { Bar } from "./pareto_view.js";

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
  /** How wide the drawing is; 0 before that is known. */
  readonly width: number;
  readonly bars: readonly ChartBar[];
  /** The rows of the table beside are the same keys, for hands and readers that need keys. */
  readonly onBar: ((bar: ChartBar) => void) | undefined;
}

export function ParetoChart({ width, bars, onBar }: ParetoChartProps) {
  const texts = bars.map(({ words, value }) => `${words}: ${number(value)}`);
  const { left, rows, bottom } = rowsOf(
    bars.map(({ words }) => words),
    texts,
    width,
    TOP_PX,
  );
  const plot = Math.max(60, width - left - EDGE_PX);
  const x = (share: number): number => left + share * plot;
  const placed = bars.flatMap((bar, place) => {
    const row = rows[place];
    return row === undefined ? [] : [{ bar, row }];
  });
  const line = placed.map(({ bar, row }) => `${x(bar.cumulative)},${row.middle}`).join(" ");
  return (
    <div class="pareto-chart">
      {width > 0 && (
        <svg role="img" aria-label={say("pareto.chart")} width={width} height={bottom + AXIS_PX}>
          <Axis x={x} top={TOP_PX} bottom={bottom} />
          {placed.map(({ bar, row }) => (
            <g
              key={`${bar.sort} ${bar.name}`}
              class={onBar && "can-narrow"}
              onClick={onBar && (() => onBar(bar))}
            >
              <rect class="row" x={0} y={row.top} width={width} height={row.height} />
              <BarWords bar={bar} left={left} row={row} />
              <rect
                class={`bar is-${bar.sort}`}
                x={left}
                y={row.middle - BAR_PX / 2}
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
          {placed.map(({ bar, row }) => (
            <circle
              key={`${bar.sort} ${bar.name}`}
              class="point"
              cx={x(bar.cumulative)}
              cy={row.middle}
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
  readonly row: Row;
}

function BarWords({ bar, left, row }: BarWordsProps) {
  if (row.lines.length > 0) {
    return (
      <>
        {row.lines.map((text, place) => (
          <text key={place} x={left} y={row.top + (place + 1) * LINE_PX}>
            {text}
          </text>
        ))}
      </>
    );
  }
  return (
    <>
      <text x={0} y={row.middle + 9}>
        {bar.words}
      </text>
      <text class="value" x={left - 14} y={row.middle + 10} text-anchor="end">
        {number(bar.value)}
      </text>
    </>
  );
}
