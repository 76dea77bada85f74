/** What `stripverdict help` prints. */
export const HELP_TEXT = `stripverdict: did a product put out in strips make a difference, and did it pay?

  stripverdict answer TRIAL.json [--layout FILE] [--harvest FILE]... [--applied FILE]... [--leave-out FILE]...
                      [--set path=value]... [--json] [--out FOLDER]
      Answers from a trial document; it may name its layout, harvest and application files by relative path.
      --applied: a log of what was put out where; ground that did not get what was planned is not used.
      --leave-out: polygons (GeoJSON, KML, shapefile) of ground that does not count. Their properties say what is there
      (kind), and where an area is cut from one strip alone, which (strip) and why (note); else from all of its block.
      --set changes a field of the document for this run, e.g. --set inference.alpha=0.1
      --cleanings: judge the trial under other reasonable cleanings, however many points (small files: always)

  stripverdict answer --layout FILE --harvest FILE... [--json] [--out FOLDER]
      Takes treatments, blocks and strips from the layout and the starting settings, and says what it assumed.

  stripverdict answer --table FILE.csv [--treatment COLUMN] [--block COLUMN] [--response COLUMN]...
                      [--unit UNIT] [--check NAME] [--alpha A] [--margin M] [--better higher|lower]
                      [--compare PROCEDURE] [--subsamples] [--json] [--out FOLDER]
      Any table with one row a plot. Without --block: completely randomized. Without --check: all pairs.
      PROCEDURE: auto, t, tukey, dunnett, bonferroni, holm, lsd or protected-lsd; auto follows from the question.
      --row COLUMN --column COLUMN: a Latin square, in place of --block.
      --factor COLUMN --factor COLUMN: two factors; their combinations are the treatments ("early, 50").
      --main COLUMN --sub COLUMN: a split plot in blocks; combinations must be complete.
      --covariate COLUMN: a number of each plot to adjust for, such as last year's yield.
      --trend COLUMN [--trend-shape linear|quadratic]: the place of each plot across the field, to adjust for.
      --transform sqrt|log|angular: analyse on that scale; means and intervals are brought back.
      --contrast "A=1; B=-0.5; C=-0.5" (repeatable): a planned comparison; the weights add up to zero.
      --rates: treatments are rates, named by their number; line, parabola and the rate of the best response.
      --subsamples: rows of the same treatment and block are samples of one plot.

  stripverdict replicates --treatments N --cv PERCENT --difference PERCENT [--power P] [--alpha A] [--json]
      Before the season: how many complete blocks find a difference between two treatments, in percent of the mean.
      Without --power: 0.8. Without --alpha: 0.05.

  stripverdict start [--no-serve]
      Prints the answer of the demo trial, then serves the app on this machine alone (PORT is honoured).

Exit codes: 0 at least one response was analysed, 2 bad input or nothing to analyse, 1 a fault of ours.
`;
