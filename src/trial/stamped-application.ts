interface AppliedTrial {
  readonly treatments: readonly {
    readonly id: string;
    readonly planned?:
      | { readonly product: string | null; readonly rate: number | null; readonly unit: string }
      | null
      | undefined;
  }[];
  readonly strips: readonly { readonly id: string; readonly appliedPolygon?: unknown }[];
  readonly applicationFiles?:
    | readonly {
        readonly path: string;
        readonly swathM: number | null;
        readonly boomBehindM?: number | null | undefined;
        readonly products: readonly {
          readonly name: string;
          readonly means: string;
          readonly treatments: readonly string[];
        }[];
      }[]
    | undefined;
}

/**
 * What decides which ground counts as treated, in words that can be compared: each log with what was said of it, what
 * treatments were to get, and which strips lie by their outline as applied.
 */
export function stampedApplication({ treatments, strips, applicationFiles = [] }: AppliedTrial): string[] {
  const logs = applicationFiles.map(({ path, swathM, boomBehindM, products }) => {
    const said = products.map(({ name, means, treatments: ids }) => {
      const shown = means === 'treatments' ? ids.join(' + ') : means;
      return `${name === '' ? 'without a product' : name} = ${shown}`;
    });
    const swath = swathM === null ? [] : [`swath ${swathM} m`];
    const boom = boomBehindM ? [`boom ${boomBehindM} m behind`] : [];
    return [path, ...swath, ...boom, ...said].join(', ');
  });
  const plans = treatments.flatMap(({ id, planned }) =>
    planned
      ? [`${id}: planned ${planned.product ?? ''} ${planned.rate ?? 'rate unknown'} ${planned.unit}`]
      : [],
  );
  const outlines = strips.flatMap(({ id, appliedPolygon }) =>
    appliedPolygon ? [`${id}: outline as applied`] : [],
  );
  return [...logs, ...plans, ...outlines];
}
