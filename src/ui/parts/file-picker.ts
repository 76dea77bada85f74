import { html, type TemplateResult } from 'lit';
import { openPicked } from '../state/opening.ts';

/** A button that opens the system's file dialog; what is picked goes the same way as what is dropped. */
export function filePicker(label: string, emphasis: 'main' | 'calm' = 'calm'): TemplateResult {
  return html`
    <label class="button ${emphasis}">
      ${label}
      <input class="only-read" type="file" multiple accept=".json,.geojson,.csv,.txt,.tsv" @change=${pick} />
    </label>
  `;
}

function pick(event: Event): void {
  if (!(event.target instanceof HTMLInputElement)) return;
  void openPicked([...(event.target.files ?? [])]);
  // The same file, mended, may be picked again.
  event.target.value = '';
}
