/**
 * Work of the page that can wait a moment, one piece a task: in between the page paints and answers to the user. A
 * channel's messages come without the pause that timers keep.
 */
const waiting: (() => void)[] = [];
const channel = new MessageChannel();

channel.port1.onmessage = () => {
  waiting.shift()?.();
  if (waiting.length > 0) callNext();
};

/** Comes true in a task of its own, in the order of asking. */
export function ownTurn(): Promise<void> {
  return new Promise((resolve) => {
    waiting.push(resolve);
    if (waiting.length === 1) callNext();
  });
}

function callNext(): void {
  channel.port2.postMessage(null);
}
