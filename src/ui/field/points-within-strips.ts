import { html, type PropertyDeclarations, type TemplateResult } from 'lit';
import plotlySheet from 'plotly.js/dist/plotly.css?url';
import { treatmentMarks } from '../../figures/treatment-marks.ts';
import type { PlacedPoints } from '../../harvest/strip-values.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { unitOf } from '../edge-units.ts';
import { trial } from '../state/session.ts';
import { TurnElement } from '../state/turn-element.ts';

/** Enough for quartiles to stand still; more would only take time to draw. */
const MOST_POINTS_A_STRIP = 2000;

/** The spread of the kept points within each strip, as boxes: for looking, never for judging treatments. */
export class PointsWithinStrips extends TurnElement {
  static override readonly properties: PropertyDeclarations = {
    points: { attribute: false },
    isOpen: { state: true },
    fault: { state: true },
  };

  declare points: PlacedPoints | null;
  declare isOpen: boolean;
  declare fault: boolean;
  /** The chart listens to the window, which would hold the page that it stood on for good. */
  #letGo: (() => void) | null = null;

  constructor() {
    super();
    this.points = null;
    this.isOpen = false;
    this.fault = false;
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#letGo?.();
    this.#letGo = null;
  }

  protected override render(): TemplateResult {
    return html`
      <details @toggle=${this.#toggled}>
        <summary>Points within each strip, as a chart</summary>
        <p class="hint">
          The kept points of a strip are averaged into its one value. Their spread shows how even the strip was; it is
          never taken for the error between strips.
        </p>
        ${this.fault ? html`<p class="fault">The chart did not load. The table above holds the counts.</p>` : ''}
        <div class="box-chart" role="img" aria-label="Box chart of the kept points of each strip"></div>
      </details>
    `;
  }

  protected override updated(): void {
    const current = trial.peek();
    if (this.isOpen && this.points !== null && current !== null) void this.#draw(this.points, current);
  }

  readonly #toggled = (event: Event): void => {
    if (event.target instanceof HTMLDetailsElement) this.isOpen = event.target.open;
  };

  async #draw(points: PlacedPoints, current: TrialDocument): Promise<void> {
    const place = this.querySelector<HTMLElement>('.box-chart');
    if (place === null) return;
    try {
      linkSheet();
      const { default: plotly } = await import('./box-charts.ts');
      if (!this.isConnected) return;
      this.#letGo = () => plotly.purge(place);
      await plotly.react(place, traces(points, current), layout(current), {
        displayModeBar: false,
        responsive: true,
      });
      this.fault = false;
    } catch {
      this.fault = true;
    }
  }
}

/** Told by this id, plotly takes its rules from the linked sheet and writes none into the page. */
function linkSheet(): void {
  if (document.getElementById('plotly.js-style-global') !== null) return;
  const link = document.createElement('link');
  link.id = 'plotly.js-style-global';
  link.className = 'no-inline-styles';
  link.rel = 'stylesheet';
  link.href = plotlySheet;
  document.head.append(link);
}

function traces(points: PlacedPoints, current: TrialDocument): readonly object[] {
  const marks = treatmentMarks(current.treatments.map(({ name }) => name));
  const values = keptValues(points, current);
  return current.strips
    .map((strip, index) => ({ strip, y: values[index] ?? [] }))
    .sort((a, b) => (a.strip.place ?? Infinity) - (b.strip.place ?? Infinity))
    .map(({ strip, y }) => {
      const name = current.treatments.find(({ id }) => id === strip.treatment)?.name ?? strip.treatment;
      const mark = marks.get(name);
      return {
        type: 'box',
        name: `${strip.id} · ${mark?.code ?? ''}`,
        y,
        boxpoints: false,
        line: { color: mark?.colour ?? '#1c1b19', width: 1.2 },
        fillcolor: '#ffffff',
        hoverinfo: 'y+name',
      };
    });
}

function keptValues(points: PlacedPoints, current: TrialDocument): readonly (readonly number[])[] {
  const { perSi } = unitOf('yield', current);
  const values: number[][] = current.strips.map(() => []);
  for (let i = 0; i < points.reason.length; i += 1) {
    const value = points.yieldKgPerHa[i]!;
    if (points.reason[i] === 0 && !Number.isNaN(value)) values[points.strip[i]!]?.push(value * perSi);
  }
  return values.map(evenlyTaken);
}

function evenlyTaken(values: readonly number[]): readonly number[] {
  const step = Math.ceil(values.length / MOST_POINTS_A_STRIP);
  return step <= 1 ? values : values.filter((_, index) => index % step === 0);
}

function layout(current: TrialDocument): object {
  return {
    height: 360,
    margin: { l: 56, r: 10, t: 10, b: 70 },
    showlegend: false,
    paper_bgcolor: '#ffffff',
    plot_bgcolor: '#ffffff',
    font: { family: 'system-ui, sans-serif', size: 12, color: '#1c1b19' },
    yaxis: {
      title: { text: `Yield of points, ${unitOf('yield', current).label}` },
      gridcolor: '#d9d6cd',
      zeroline: false,
    },
    xaxis: { tickangle: -60 },
  };
}

customElements.define('sv-points-within-strips', PointsWithinStrips);
