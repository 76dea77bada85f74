/**
 * Stands in for the drawing and workbook packages that danfojs would bring into the app: they are never used here,
 * and one of them breaks a strict Content-Security-Policy. `vite.config.ts` puts this in their place.
 */
export default {};
