import { differencesAgainstBreakEven } from '../figures/differences-against-break-even.ts';
import { fieldMap } from '../figures/field-map.ts';
import type { StripOnField } from '../figures/strip-on-field.ts';
import { stripsInFieldOrder } from '../figures/strips-in-field-order.ts';
import { treatmentsOf } from '../figures/treatment-marks.ts';
import { treatmentMeans } from '../figures/treatment-means.ts';
import type { ReportModel } from '../findings/report-model.ts';
import type { PlacedPoints } from '../harvest/strip-values.ts';
import type { TrialDocument } from '../trial/trial-document.ts';
import { anovaCsv } from './anova-csv.ts';
import { answersCsv } from './answers-csv.ts';
import { comparisonsCsv } from './comparisons-csv.ts';
import { furtherCsv } from './further-csv.ts';
import { handoutPage } from './handout-page.ts';
import { meansCsv } from './means-csv.ts';
import { reportJson } from './report-json.ts';
import { stripTableCsv } from './strip-table-csv.ts';
import { type GroundOfPasses, stripsGeojson } from './strips-geojson.ts';
import { workbookXlsx } from './workbook-xlsx.ts';

export interface AnswerFile {
  readonly name: string;
  readonly mediaType: string;
  readonly content: string | Uint8Array<ArrayBuffer>;
}

/** What the report model does not carry; a run of the pipeline has both under these names. */
export interface AnswerExtras {
  readonly field:
    | (GroundOfPasses & { readonly strips: readonly StripOnField[]; readonly points: PlacedPoints | null })
    | null;
  readonly trial: TrialDocument | null;
}

const FIGURE_PX = 900;
const CSV = 'text/csv;charset=utf-8';
const SVG = 'image/svg+xml';

/** All files of one answer. Their names do not depend on the data, save for the figures of further responses. */
export async function answerFiles(report: ReportModel, extras: AnswerExtras): Promise<readonly AnswerFile[]> {
  return [
    {
      name: 'handout.html',
      mediaType: 'text/html;charset=utf-8',
      content: handoutPage(report, { season: extras.trial?.season ?? null }),
    },
    { name: 'report.json', mediaType: 'application/json', content: reportJson(report) },
    { name: 'answers.csv', mediaType: CSV, content: answersCsv(report) },
    { name: 'strips.csv', mediaType: CSV, content: stripTableCsv(report) },
    { name: 'means.csv', mediaType: CSV, content: meansCsv(report) },
    { name: 'anova.csv', mediaType: CSV, content: anovaCsv(report) },
    { name: 'comparisons.csv', mediaType: CSV, content: comparisonsCsv(report) },
    { name: 'further-results.csv', mediaType: CSV, content: furtherCsv(report) },
    {
      name: 'tables.xlsx',
      mediaType: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
      content: await workbookXlsx(report),
    },
    ...geojsonFile(report, extras),
    ...mapFile(report, extras),
    ...figureFiles(report),
  ];
}

function geojsonFile(report: ReportModel, { trial, field }: AnswerExtras): readonly AnswerFile[] {
  const isDrawn = trial?.strips.some(({ polygon }) => polygon !== null) || (field?.strips.length ?? 0) > 0;
  if (trial === null || !isDrawn) return [];
  const content = stripsGeojson(report, trial, field);
  return [{ name: 'strips.geojson', mediaType: 'application/geo+json', content }];
}

function mapFile(report: ReportModel, { field, trial }: AnswerExtras): readonly AnswerFile[] {
  if (field === null || field.strips.length === 0) return [];
  const points =
    field.points === null
      ? {}
      : {
          points: {
            eastM: field.points.eastM,
            northM: field.points.northM,
            kept: field.points.reason.map((reason) => (reason === 0 ? 1 : 0)),
          },
        };
  const content = fieldMap(
    {
      strips: field.strips,
      treatments: treatmentsOf(report),
      unitSystem: report.trial.unitSystem ?? trial?.unitSystem ?? 'metric',
      ...points,
    },
    { widthPx: FIGURE_PX },
  );
  return [{ name: 'field-map.svg', mediaType: SVG, content }];
}

/** The first response's figures have plain names; those of further ones carry a number, since names may clash. */
function figureFiles(report: ReportModel): readonly AnswerFile[] {
  return report.responses.flatMap(({ name }, index) => {
    const ending = index === 0 ? '.svg' : `-${index + 1}.svg`;
    const options = { widthPx: FIGURE_PX };
    return [
      {
        name: `strips-in-field-order${ending}`,
        mediaType: SVG,
        content: stripsInFieldOrder(report, name, options),
      },
      {
        name: `differences-against-break-even${ending}`,
        mediaType: SVG,
        content: differencesAgainstBreakEven(report, name, options),
      },
      { name: `treatment-means${ending}`, mediaType: SVG, content: treatmentMeans(report, name, options) },
    ];
  });
}
