/**
 * Work of the page that can wait a moment, cut into short tasks: in between the page paints and answers to the user. A
 * channel's messages come without the pause that timers keep.
 */
const waiting: (() => void)[] = [];
const channel = new MessageChannel();
/** Small pieces share a task until it has taken so long. */
const TASK_MS = 6;
let isCalled = false;

channel.port1.onmessage = () => {
  isCalled = false;
  const end = performance.now() + TASK_MS;
  do waiting.shift()?.();
  while (waiting.length > 0 && performance.now() < end);
  if (waiting.length > 0) callNext();
};

/** Does the work later, in the order of asking, and comes true when it is done. */
export function inTurn(work: () => void): Promise<void> {
  return new Promise((resolve, reject) => {
    waiting.push(() => {
      try {
        work();
        resolve();
      } catch (error) {
        reject(error);
      }
    });
    callNext();
  });
}

function callNext(): void {
  if (isCalled) return;
  isCalled = true;
  channel.port2.postMessage(null);
}
