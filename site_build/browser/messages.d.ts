/** What the page and the Python worker say to each other. */

export type Question = { id: number; question: string };

export type State =
  | { state: 'asleep' }
  | { state: 'starting'; stage: 'engine' | 'python' | 'calculators' }
  | { state: 'ready' }
  | { state: 'failed'; reason: string };

export type FromWorker = State | { id: number; answer: string } | { id: number; error: string };

/** The part of a Worker that we use; a test stands another one in. */
export type WorkerLike = {
  postMessage(message: Question): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<FromWorker>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
};
