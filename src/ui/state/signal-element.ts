import { effect } from '@preact/signals-core';
import { LitElement } from 'lit';

/**
 * An element that draws itself again when a signal that it read while drawing has changed. It draws into the page
 * itself, not into a shadow root: one style sheet serves screen and print, and labels find their fields.
 */
export abstract class SignalElement extends LitElement {
  #stopWatching: (() => void) | null = null;
  #stopKeeping: (() => void) | null = null;

  /** What is to be kept going while the element is on the page; the function given back ends it. */
  protected whileShown(): () => void {
    return () => undefined;
  }

  protected override createRenderRoot(): HTMLElement {
    return this;
  }

  protected override performUpdate(): void {
    if (!this.isUpdatePending) return;
    this.#stopWatching?.();
    let isDrawing = true;
    this.#stopWatching = effect(() => {
      if (isDrawing) super.performUpdate();
      else this.requestUpdate();
      isDrawing = false;
    });
    // Taken off the page before its turn came: nothing would end the watching.
    if (!this.isConnected) this.#unwatch();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#stopKeeping = this.whileShown();
    this.requestUpdate();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#unwatch();
    this.#stopKeeping?.();
    this.#stopKeeping = null;
  }

  #unwatch(): void {
    this.#stopWatching?.();
    this.#stopWatching = null;
  }
}
