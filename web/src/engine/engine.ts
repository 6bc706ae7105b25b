// STUB until the engine lands.
export interface Problem {
  field: string;
  given: string;
  allowed: string;
  why: string;
  text: string;
}
export class ProblemError extends Error {
  constructor(readonly problem: Problem) {
    super(problem.text);
  }
}
// eslint-disable-next-line
export type UseCases = Record<string, { request: any; answer: any }>;
export type UseCaseName = keyof UseCases & string;
export interface AskOptions {
  signal?: AbortSignal;
  onProgress?: (share: number) => void;
}
export interface Grown {
  machines: number;
  share: number;
  final: boolean;
}
export interface Engine {
  ask<N extends UseCaseName>(
    name: N,
    request: UseCases[N]['request'],
    options?: AskOptions,
  ): Promise<UseCases[N]['answer']>;
  diagnose(
    request: unknown,
    onAnswer: (answer: any, grown: Grown) => void,
    options?: AskOptions,
  ): Promise<void>;
}
export function startEngine(_speech: () => { language: string; units: 'us' | 'metric' }): Engine {
  const never = () => Promise.reject(new Error('stub'));
  return { ask: never, diagnose: never };
}
