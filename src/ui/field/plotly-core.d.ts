/** The little of plotly.js that is used here; the package types its whole bundle only. */
declare module 'plotly.js/lib/core' {
  interface PlotlyCore {
    register(modules: readonly unknown[]): void;
    newPlot(
      element: HTMLElement,
      traces: readonly object[],
      layout: object,
      config: object,
    ): Promise<unknown>;
    react(element: HTMLElement, traces: readonly object[], layout: object, config: object): Promise<unknown>;
    purge(element: HTMLElement): void;
  }
  const plotly: PlotlyCore;
  export default plotly;
}

declare module 'plotly.js/lib/box' {
  const trace: unknown;
  export default trace;
}
