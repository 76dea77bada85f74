import { html, type TemplateResult } from 'lit';
import { openPicked } from '../state/opening.ts';

/** A hint for the system's dialog; what a file is, its content tells. */
const KNOWN_ENDINGS = '.json,.geojson,.csv,.txt,.tsv,.kml,.kmz,.zip,.shp,.shx,.dbf,.prj,.cpg,.xlsx';

/** A button that opens the system's file dialog; what is picked goes the same way as what is dropped, or as `open` says. */
export function filePicker(
  label: string,
  emphasis: 'main' | 'calm' = 'calm',
  open: (picked: readonly File[]) => Promise<void> = openPicked,
): TemplateResult {
  return html`
    <label class="button ${emphasis}">
      ${label}
      <input class="only-read" type="file" multiple accept=${KNOWN_ENDINGS} @change=${(event: Event) => pick(event, open)} />
    </label>
  `;
}

function pick(event: Event, open: (picked: readonly File[]) => Promise<void>): void {
  if (!(event.target instanceof HTMLInputElement)) return;
  void open([...(event.target.files ?? [])]);
  // The same file, mended, may be picked again.
  event.target.value = '';
}
