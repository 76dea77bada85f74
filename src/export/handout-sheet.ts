/**
 * The page's style sheet: embedded in the file that is written, adopted as a sheet by the app. The one source of
 * how the handout looks. Everything hangs under `.handout` and
 * `.cautions-beneath`, so it disturbs nothing around it.
 */
export const HANDOUT_CSS = `
@page { margin: 9mm 12mm; }
.handout { max-width: 700px; margin: 0 auto; color: #1c1b19; background: #fff; font: 12px/1.32 Arial, Helvetica, 'Liberation Sans', sans-serif; }
.handout header { display: flex; justify-content: space-between; align-items: baseline; gap: 16px; border-bottom: 2px solid #1c1b19; padding-bottom: 3px; }
.handout h1 { font-size: 19px; line-height: 1.2; margin: 0; overflow-wrap: anywhere; }
.handout h2 { font-size: 11.5px; margin: 0 0 1px; }
.handout p { margin: 0; }
.handout .when { color: #55524c; text-align: right; flex: none; max-width: 45%; overflow-wrap: anywhere; }
.handout .answers { display: grid; grid-template-columns: 1fr; gap: 6px 18px; margin: 7px 0 4px; font-size: 11.5px; }
.handout .answers.several { grid-template-columns: 1fr 1fr; }
.handout .answers.single { font-size: 15px; }
.handout .answers.single h2, .handout .answers.single .verdicts { font-size: 18px; }
.handout .answers.single .verdicts span { font-size: 13px; }
.handout .answer { border-left: 4px solid #1c1b19; padding-left: 9px; break-inside: avoid; }
.handout .answer h2 { font-size: 13px; overflow-wrap: anywhere; }
.handout .verdicts { display: flex; flex-wrap: wrap; gap: 0 14px; font-size: 14px; font-weight: bold; }
.handout .verdicts span { font-weight: normal; font-size: 11px; color: #55524c; }
.handout table { border-collapse: collapse; width: 100%; font-size: 11px; font-variant-numeric: tabular-nums; }
.handout th { text-align: left; border-bottom: 1px solid #8d8a82; padding: 1px 8px 1px 0; vertical-align: bottom; }
.handout td { border-bottom: 1px solid #d9d6cd; padding: 1px 8px 1px 0; vertical-align: top; overflow-wrap: anywhere; }
.handout .number { text-align: right; white-space: nowrap; }
.handout .comparisons { margin: 5px 0 4px; font-size: 10.5px; }
.handout .comparisons td { padding-top: 0; padding-bottom: 0; }
.handout .figure { margin: 0 -9px; overflow-x: auto; break-inside: avoid; }
.handout .figure svg { display: block; width: 100%; height: auto; min-width: 560px; font-family: inherit; }
.handout .below { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); gap: 20px; margin-top: 2px; font-size: 10px; line-height: 1.28; }
.handout .below section { margin-top: 4px; }
.handout .below table { font-size: 10px; }
.handout ul { margin: 0; padding-left: 13px; }
.handout .cautions { margin-top: 6px; border-top: 1px solid #8d8a82; padding-top: 3px; font-size: 10.5px; }
.handout .made { color: #55524c; font-size: 9.5px; overflow-wrap: anywhere; }
.cautions-beneath { max-width: 700px; margin: 12px auto; color: #55524c; font: 12px/1.4 Arial, Helvetica, 'Liberation Sans', sans-serif; }
@media print { .cautions-beneath { display: none; } }
@media (max-width: 560px) {
  .handout .answers.several, .handout .below { grid-template-columns: 1fr; }
  .handout { padding: 8px; }
  .handout .figure svg { min-width: 0; }
  .handout header { display: block; }
  .handout .when { text-align: left; max-width: none; }
}
`;
