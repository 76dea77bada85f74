/** A stretch of ground seen on screen: which metre lies at the middle, and how many pixels a metre takes. */
export interface FieldView {
  readonly centreEastM: number;
  readonly centreNorthM: number;
  readonly pxPerM: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface GroundBounds {
  readonly westM: number;
  readonly eastM: number;
  readonly southM: number;
  readonly northM: number;
}

const PADDING_PX = 18;

export function boundsOf(
  strips: readonly { rings: readonly (readonly (readonly [number, number])[])[] }[],
): GroundBounds | null {
  const bounds = { westM: Infinity, eastM: -Infinity, southM: Infinity, northM: -Infinity };
  for (const { rings } of strips) {
    for (const [eastM, northM] of rings.flat()) {
      bounds.westM = Math.min(bounds.westM, eastM);
      bounds.eastM = Math.max(bounds.eastM, eastM);
      bounds.southM = Math.min(bounds.southM, northM);
      bounds.northM = Math.max(bounds.northM, northM);
    }
  }
  return Number.isFinite(bounds.westM) ? bounds : null;
}

export function boundsOfPoints(points: {
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
}): GroundBounds | null {
  const bounds = { westM: Infinity, eastM: -Infinity, southM: Infinity, northM: -Infinity };
  for (let i = 0; i < points.eastM.length; i++) {
    const [eastM, northM] = [points.eastM[i]!, points.northM[i]!];
    if (Number.isNaN(eastM + northM)) continue;
    bounds.westM = Math.min(bounds.westM, eastM);
    bounds.eastM = Math.max(bounds.eastM, eastM);
    bounds.southM = Math.min(bounds.southM, northM);
    bounds.northM = Math.max(bounds.northM, northM);
  }
  return Number.isFinite(bounds.westM) ? bounds : null;
}

/** The whole of the ground, as large as fits. */
export function fitView(bounds: GroundBounds, widthPx: number, heightPx: number): FieldView {
  const pxPerM = Math.min(
    (widthPx - 2 * PADDING_PX) / Math.max(bounds.eastM - bounds.westM, 1),
    (heightPx - 2 * PADDING_PX) / Math.max(bounds.northM - bounds.southM, 1),
  );
  return {
    centreEastM: (bounds.westM + bounds.eastM) / 2,
    centreNorthM: (bounds.southM + bounds.northM) / 2,
    pxPerM,
    widthPx,
    heightPx,
  };
}

export function toPx(view: FieldView, eastM: number, northM: number): readonly [number, number] {
  return [
    view.widthPx / 2 + (eastM - view.centreEastM) * view.pxPerM,
    view.heightPx / 2 - (northM - view.centreNorthM) * view.pxPerM,
  ];
}

export function toGround(view: FieldView, xPx: number, yPx: number): readonly [number, number] {
  return [
    view.centreEastM + (xPx - view.widthPx / 2) / view.pxPerM,
    view.centreNorthM - (yPx - view.heightPx / 2) / view.pxPerM,
  ];
}

/** Closer or further away, with the ground under the given pixel staying where it is. */
export function zoomAt(view: FieldView, factor: number, xPx: number, yPx: number): FieldView {
  const [eastM, northM] = toGround(view, xPx, yPx);
  const pxPerM = view.pxPerM * factor;
  return {
    ...view,
    pxPerM,
    centreEastM: eastM - (xPx - view.widthPx / 2) / pxPerM,
    centreNorthM: northM + (yPx - view.heightPx / 2) / pxPerM,
  };
}

export function panBy(view: FieldView, dxPx: number, dyPx: number): FieldView {
  return {
    ...view,
    centreEastM: view.centreEastM - dxPx / view.pxPerM,
    centreNorthM: view.centreNorthM + dyPx / view.pxPerM,
  };
}
