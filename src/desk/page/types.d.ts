/** What page and server say to each other: as `wire.rs`. */

export type Step = number | string;
export type Path = Step[];
export type Value = null | boolean | number | string | Value[] | { [key: string]: Value };

export type Change =
  | { do: 'set'; path: Path; to: unknown; was?: unknown }
  | { do: 'remove'; path: Path; was?: unknown }
  | { do: 'insert'; path: Path; to: unknown }
  | { do: 'move'; path: Path; to: number }
  | { do: 'text'; to: string; was?: string | null };

export interface Asked {
  changes: Change[];
  waiting?: Change[];
  stroke?: string | null;
}

export type Kept = 'all' | 'new' | 'none';

export interface Answer {
  kept: Kept;
  mistakes: Mistake[];
  clash: Clash | null;
  bench: Bench;
}

export interface Clash {
  path: Path;
  now: unknown;
}

export interface Mistake {
  path: Path;
  line: number;
  column: number;
  message: string;
  help: string | null;
}

export interface Bench {
  name: string;
  version: number;
  text: string;
  values: unknown;
  undo: boolean;
  redo: boolean;
  mistakes: Mistake[];
  plaque: Plaque | null;
}

export interface Picture {
  svg: string;
  width: number;
  height: number;
}

export interface Plaque {
  front: Picture;
  face: Picture | null;
  size: [number, number];
  fit: string;
  mount: string;
  lines: Line[];
  photos: Photo[];
  findings: Finding[];
  mark: string;
  signed: Signed | null;
  files: File[];
  withheld: string[];
}

export interface Line {
  text: string;
  ornament: string | null;
  lettering: string;
  cap_height: number;
  x_height: number | null;
  rows: string[];
  floor: number;
  why: string[];
}

export interface Photo {
  file: string;
  pixels: [number, number];
  size: [number, number];
  crop: [number, number, number, number];
  per_mm: number;
}

export interface Finding {
  code: string;
  severity: string;
  path: Path;
  place: string;
  measured: number | null;
  message: string;
  rule: string;
  accepted: string | null;
}

export interface Cure {
  finding: number;
  message: string;
  changes: CureChange[];
}

export interface CureChange {
  do: string;
  path: Path;
  to: unknown;
}

export interface Cures {
  version: number;
  cures: Cure[];
}

export interface Signed {
  mark: string;
  holds: boolean;
  signatures: string[];
  changes: string[];
}

export interface File {
  name: string;
  reader: string;
  what: string;
}

export interface Signing {
  by: string;
  role: string;
  date: string;
  mark: string;
}

export interface Choice {
  name: string;
  about: string;
  picture: Picture | null;
  changes: CureChange[];
  remove: Path[];
}

export interface Entry {
  name: string;
  about: string;
}

export interface Folder {
  folder: string;
  layouts: Entry[];
  starters: Entry[];
  opened: string | null;
}

export interface NewLayout {
  title: string;
  from?: string | null;
}

export interface Stored {
  name: string;
}

export interface Refused {
  refused: string;
}
