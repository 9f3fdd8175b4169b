/** What a host has to supply; nothing else in the app knows which host it is. */
export interface Transport {
  send(message: unknown): void;
  /** @returns a function that stops listening */
  onMessage(listener: (message: unknown) => void): () => void;
}
