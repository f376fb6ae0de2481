/**
 * Lets what waits already have its turn, signals and messages among it, and goes on at once: a timer would hold the work up for a
 * millisecond or four. Node hands over a thousand messages of a channel before it hears a signal, so it takes its own way.
 */
export function giveWay(): Promise<void> {
  return new Promise((resolve) => {
    if (typeof setImmediate === "function") {
      setImmediate(resolve);
      return;
    }
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}
