import { SignalElement } from './signal-element.ts';
import { inTurn } from './turns.ts';

/**
 * An element that takes its turn to draw itself, so that a long page is not one long task. Its handlers must not rest on
 * what it was last drawn from: a second event may come before its turn does.
 */
export abstract class TurnElement extends SignalElement {
  protected override scheduleUpdate(): Promise<void> | undefined {
    return inTurn(() => super.scheduleUpdate());
  }
}
