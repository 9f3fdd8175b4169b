/**
 * Many curves over each other, lined up at light-off. Told apart by dash and by a word at the curve's end, never by colour alone.
 * Imperative like the trend: created once, fed, destroyed.
 */
import { Chart, LinearScale, LineController, LineElement, PointElement, type ChartDataset, type Plugin } from 'chart.js';
import { readColors, type ChartColors } from './chart-colors.ts';
import { pointsInSight } from './overlay-points.ts';
import { type OverlayCurve, type OverlayContent, type OverlayRange, curveDashes } from './overlay-content.ts';
import { RIGHT, lineColor, drawGround, drawPoints, drawLabels } from './draw-overlay.ts';

Chart.register(LineController, LineElement, PointElement, LinearScale);

export type OverlayChart = {
  draw(content: OverlayContent, range: OverlayRange): void;
  themeChanged(): void;
  /** as PNG on the ground of the theme, with what has to be said above the curves */
  picture(title: string, watermark: string | undefined): string;
  destroy(): void;
};

export function createOverlayChart(canvas: HTMLCanvasElement): OverlayChart {
  let colors = readColors(canvas);
  let content: OverlayContent | undefined;
  let range: OverlayRange = { fromS: -60, toS: 1200 };

  const drawing: Plugin<'line'> = {
    id: 'overlay',
    beforeDatasetsDraw(chart) {
      if (content !== undefined) drawGround(chart, content, colors);
    },
    afterDatasetsDraw(chart) {
      if (content === undefined) return;
      drawPoints(chart, content, colors);
      drawLabels(chart, content, colors);
    },
  };
  // fonts, themes and frames may still call a chart that has left the page; it cannot be drawn any more
  let gone = false;
  const chart = new Chart(canvas, {
    type: 'line',
    data: { datasets: [] },
    options: {
      animation: false,
      parsing: false,
      normalized: true,
      responsive: true,
      maintainAspectRatio: false,
      events: [],
      layout: { padding: { top: 22, right: RIGHT, bottom: 28, left: 0 } },
      elements: { point: { radius: 0 } },
      plugins: { tooltip: { enabled: false } },
      scales: {
        x: { type: 'linear', grid: { display: false }, border: { display: false }, ticks: { display: false } },
        y: {
          type: 'linear',
          grid: { display: false },
          border: { display: false },
          ticks: { display: false },
          afterFit: (axis) => void (axis.width = 56),
        },
      },
    },
    plugins: [drawing],
  });

  return {
    draw(next, nextRange) {
      if (gone) return;
      content = next;
      range = nextRange;
      const columns = Math.max(200, Math.round((chart.chartArea?.width ?? canvas.clientWidth) || 700));
      const sight = next.curves.map((curve) => ({ ...curve, points: pointsInSight(curve.points, range.fromS, range.toS, columns) }));
      chart.data.datasets = sight.map((curve) => datasetOf(curve, colors));
      let [low, high] = [Infinity, -Infinity];
      for (const { points } of sight)
        for (const { x, y } of points) {
          if (x < range.fromS || x > range.toS) continue;
          if (y < low) low = y;
          if (y > high) high = y;
        }
      if (low > high) [low, high] = [0, 1];
      const room = Math.max(0.05 * (high - low), 0.5);
      const y = chart.options.scales?.['y'] as { min?: number; max?: number };
      y.min = low - room;
      y.max = high + room;
      const x = chart.options.scales?.['x'] as { min?: number; max?: number };
      x.min = range.fromS;
      x.max = range.toS;
      chart.update('none');
    },
    themeChanged() {
      if (gone) return;
      colors = readColors(canvas);
      if (content !== undefined) this.draw(content, range);
    },
    picture(title, watermark) {
      const sheet = document.createElement('canvas');
      const ratio = canvas.width / Math.max(1, canvas.clientWidth);
      const head = 44 * ratio;
      sheet.width = canvas.width;
      sheet.height = canvas.height + head;
      const ctx = sheet.getContext('2d');
      if (ctx === null) return '';
      ctx.fillStyle = colors.ground;
      ctx.fillRect(0, 0, sheet.width, sheet.height);
      ctx.fillStyle = colors.ink;
      ctx.font = `650 ${20 * ratio}px ${colors.font}`;
      ctx.textBaseline = 'middle';
      ctx.fillText(title, 16 * ratio, head / 2);
      if (watermark !== undefined) {
        ctx.save();
        ctx.globalAlpha = 0.16;
        ctx.textAlign = 'center';
        ctx.font = `700 ${84 * ratio}px ${colors.font}`;
        ctx.translate(sheet.width / 2, sheet.height / 2);
        ctx.rotate(-Math.PI / 9);
        ctx.fillText(watermark, 0, 0);
        ctx.restore();
      }
      ctx.drawImage(canvas, 0, head);
      return sheet.toDataURL('image/png');
    },
    destroy() {
      gone = true;
      chart.destroy();
    },
  };
}

const datasetOf = ({ points, style, strong }: OverlayCurve, colors: ChartColors): ChartDataset<'line', { x: number; y: number }[]> => ({
  data: points as { x: number; y: number }[],
  borderColor: lineColor({ style }, colors),
  borderWidth: strong ? 4 : style > 5 ? 1 : 2.5,
  borderDash: [...(curveDashes[style] ?? [])],
  borderJoinStyle: 'round',
  pointRadius: 0,
  tension: 0,
  spanGaps: false,
  order: strong ? 0 : 1,
});
