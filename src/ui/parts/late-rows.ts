import { noChange, type TemplateResult } from 'lit';
import { AsyncDirective } from 'lit/async-directive.js';
import { directive } from 'lit/directive.js';
import { inTurn } from '../state/turns.ts';

type Draw = () => readonly TemplateResult[];

/** Rows that are drawn in a turn of their own; an element would do for parts of a page, but a table takes none between its rows. */
class LateRows extends AsyncDirective {
  #draw: Draw = () => [];
  #isAsked = false;

  override render(_draw: Draw): unknown {
    return noChange;
  }

  override update(_place: unknown, [draw]: [Draw]): unknown {
    this.#draw = draw;
    this.#ask();
    return noChange;
  }

  protected override reconnected(): void {
    this.#ask();
  }

  #ask(): void {
    if (this.#isAsked) return;
    this.#isAsked = true;
    void inTurn(() => {
      this.#isAsked = false;
      if (this.isConnected) this.setValue(this.#draw());
    });
  }
}

const late = directive(LateRows);

/** The rows of a long table, or its groups of rows, some a turn. What is drawn here watches no signals. */
export function rowsInTurns<T>(
  items: readonly T[],
  rowsATurn: number,
  draw: (item: T) => TemplateResult,
): readonly unknown[] {
  return Array.from({ length: Math.ceil(items.length / rowsATurn) }, (_, turn) =>
    late(() => items.slice(turn * rowsATurn, (turn + 1) * rowsATurn).map(draw)),
  );
}
