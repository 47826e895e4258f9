/** Lets messages that wait be heard: resolves in a task of its own, without the delay of a timer. */
export function nextTask(): Promise<void> {
  return new Promise((done) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      done();
    };
    port2.postMessage(null);
  });
}
