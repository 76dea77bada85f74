import { type Refusal, refuse } from './refusal.ts';

/** The refusal `alphaOutOfRange` {alpha} unless 0 < alpha <= 0.5. */
export function alphaRefusal(alpha: number): Refusal | null {
  return alpha > 0 && alpha <= 0.5 ? null : refuse('alphaOutOfRange', { alpha });
}
