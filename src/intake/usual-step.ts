/** The middle one of the steps forward between neighbours; steps from or to what is not known are none. null: there is none. */
export function usualStep(values: ArrayLike<number>): number | null {
  const steps: number[] = [];
  for (let i = 1; i < values.length; i += 1) {
    const step = values[i]! - values[i - 1]!;
    if (step > 0) steps.push(step);
  }
  steps.sort((a, b) => a - b);
  return steps[Math.floor(steps.length / 2)] ?? null;
}
