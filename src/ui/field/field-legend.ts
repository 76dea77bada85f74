import { html, nothing, svg, type TemplateResult } from 'lit';
import type { PlacedPoints } from '../../harvest/strip-values.ts';
import type { TrialDocument } from '../../trial/trial-document.ts';
import { fixed } from '../../words/number-formats.ts';
import { unitOf } from '../edge-units.ts';
import type { FieldView } from './field-view.ts';
import { shadeText } from './point-raster.ts';
import { type ReasonMark, reasonCounts, reasonMark } from './reason-marks.ts';
import { reasonWords } from './set-aside-reasons.ts';
import { shadedYields } from './yield-range.ts';

const SHADES_SHOWN = [0, 0.25, 0.5, 0.75, 1];

/** From the palest to the darkest shade, with the yields at both ends. */
export function yieldScale(points: PlacedPoints, current: TrialDocument, what: string): TemplateResult {
  const { low, high } = shadedYields(points);
  const { perSi, label } = unitOf('yield', current);
  const shown = (value: number) => (Number.isNaN(value) ? 'none' : fixed(value * perSi, 1));
  return html`
    <span>${what}
      <span class="yield-scale">${shown(low)}
        <svg class="shades" viewBox="0 0 60 12" aria-hidden="true">${SHADES_SHOWN.map((share, k) => svg`<rect x=${12 * k} y="0" width="12" height="12" fill=${shadeText(share)} />`)}</svg>
        <span class="only-read">to</span> ${shown(high)} ${label}
      </span>
    </span>
  `;
}

/** Each reason that occurs, with its mark and how many points carry it. */
export function reasonKeys({ reason }: PlacedPoints): TemplateResult {
  return html`${reasonCounts(reason).map(
    ({ reason: number, points }) =>
      html`<span class="reason-key">${markPicture(reasonMark(number))} ${reasonWords(number)}: ${points}</span>`,
  )}`;
}

function markPicture({ form, colour }: ReasonMark): TemplateResult {
  const stroke = `rgb(${colour.join(' ')})`;
  const drawn = {
    cross: svg`<path d="M2 2 12 12M12 2 2 12" stroke=${stroke} stroke-width="2" />`,
    plus: svg`<path d="M7 1V13M1 7H13" stroke=${stroke} stroke-width="2" />`,
    square: svg`<rect x="3" y="3" width="8" height="8" fill="none" stroke=${stroke} stroke-width="2" />`,
  };
  return html`<svg class="key" viewBox="0 0 14 14" aria-hidden="true">${drawn[form]}</svg>`;
}

const LONGEST_BAR_PX = 130;
const STEPS = [5, 2, 1];

/** A bar of a round length at the foot of the field. */
export function scaleBar(view: FieldView, current: TrialDocument): TemplateResult | typeof nothing {
  const { perSi, label } = unitOf('length', current);
  const most = (LONGEST_BAR_PX / view.pxPerM) * perSi;
  const power = 10 ** Math.floor(Math.log10(most));
  const length = (STEPS.find((step) => step * power <= most) ?? 1) * power;
  if (!(length > 0)) return nothing;
  const [left, foot] = [12, view.heightPx - 10];
  const right = left + (length / perSi) * view.pxPerM;
  return svg`
    <path class="scale-bar" d=${`M${left} ${foot - 6}V${foot}H${right.toFixed(1)}V${foot - 6}`}></path>
    <text class="scale-length" x=${(left + right) / 2} y=${foot - 8}>${Number(length.toPrecision(2))} ${label}</text>
  `;
}
