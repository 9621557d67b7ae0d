// SPDX-License-Identifier: Apache-2.0
// The one way to the server. Nothing here or behind it leaves this machine.

import type { Problem, ServerState, TiltAsked, Told, Work } from "./protocol";

/** Told apart from other windows on the same job, so that none is told of its own change. */
export const WINDOW = crypto.randomUUID();

/** What the server refused, in the words of the commands. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problems: Problem[],
    message: string,
    readonly body: Record<string, unknown>,
  ) {
    super(message);
  }
}

async function refused(answer: Response): Promise<Refused> {
  const body = (await answer.json().catch(() => ({}))) as Record<string, unknown>;
  const problems = (body["problems"] as Problem[] | undefined) ?? [];
  const said = body["error"] as string | undefined;
  const first = problems[0];
  const text = said ?? (first ? `${first.where}: ${first.found}; needed ${first.needed}` : "");
  return new Refused(answer.status, problems, text || `refused (${answer.status})`, body);
}

async function asked(path: string, init?: RequestInit): Promise<Response> {
  const answer = await fetch(path, { credentials: "same-origin", ...init });
  if (!answer.ok) throw await refused(answer);
  return answer;
}

export async function got<T>(path: string): Promise<T> {
  return (await asked(path)).json() as Promise<T>;
}

export async function gotBytes(path: string): Promise<ArrayBuffer> {
  return (await asked(path)).arrayBuffer();
}

export async function posted<T>(path: string, body: unknown): Promise<T> {
  const headers = { "Content-Type": "application/json" };
  const answer = await asked(path, { method: "POST", headers, body: JSON.stringify(body) });
  return answer.json() as Promise<T>;
}

export async function uploaded<T>(query: Record<string, string> | URLSearchParams, file: Blob): Promise<T> {
  const path = `/api/upload?${new URLSearchParams(query)}`;
  const headers = { "Content-Type": "application/octet-stream" };
  return (await asked(path, { method: "POST", headers, body: file })).json() as Promise<T>;
}

export const serverState = (): Promise<ServerState> => got("/api/state");

export const askWork = (question: string, args: Record<string, unknown> = {}): Promise<Work> =>
  posted("/api/ask", { question, args });

export const answerOf = <T>(key: string): Promise<T> => got(`/api/answer/${key}`);

export async function stopWork(id: string): Promise<void> {
  await asked(`/api/work/${id}`, { method: "DELETE" });
}

type Listener = (told: Told) => void;

/** The open line to the server: it tells of work and changes, and answers tilts. */
export class Line {
  private socket: WebSocket | null = null;
  private wait = 250;

  constructor(
    private readonly hear: Listener,
    private readonly open: (is: boolean) => void,
  ) {
    this.dial();
  }

  /** False where the line is down: ask again when it is up. */
  tilt(asked: TiltAsked): boolean {
    if (this.socket?.readyState !== WebSocket.OPEN) return false;
    this.socket.send(JSON.stringify(asked));
    return true;
  }

  private dial(): void {
    const socket = new WebSocket(`ws://${location.host}/api/live`);
    this.socket = socket;
    socket.onopen = () => {
      this.wait = 250;
      this.open(true);
    };
    socket.onmessage = (event) => this.hear(JSON.parse(event.data as string) as Told);
    socket.onclose = () => {
      this.open(false);
      setTimeout(() => this.dial(), this.wait);
      this.wait = Math.min(2 * this.wait, 5000);
    };
  }
}
