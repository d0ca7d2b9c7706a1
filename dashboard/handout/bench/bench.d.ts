// What the bench page knows (`page.known` writes it) and what it keeps.

export interface Reading {
  key: string;
  /** Its heading on the sheet, which says the unit. */
  head: string;
  word: string;
  unit: string;
  decimals: number;
  possible: [number, number];
  usual: [number, number];
  /** A reading past an end of the instrument can be written as less or more than it. */
  past: boolean;
}
export interface Rating {
  key: string;
  word: string;
  meaning: string;
  low: number;
  high: number;
  best: number;
}
/** `size` and `sugar`: the middle of its earlier fruit, and how far from it is far, in the units of the readings. */
export interface Cultivar {
  name: string;
  pick: number;
  row?: string;
  position?: string;
  here?: boolean;
  when?: string;
  remark?: string;
  first?: boolean;
  chance?: number;
  size?: [number, number];
  sugar?: [number, number];
}
/** `send`: where on its server a day goes, "" of a file. `above`: rows of the sheet over its headings. `apart`: what two cheeks, and two diameters as a share of their mean, may differ by. */
export interface Known {
  send: string;
  trial: string;
  invented: boolean;
  site: string;
  siteName: string;
  day: string;
  last: string;
  units: string;
  why: string;
  headings: string[];
  above: number;
  fruit: number;
  instruments: string[][];
  readings: Reading[];
  ratings: Rating[];
  /** Its temperature, where the refractometer does not correct for it; else empty. */
  juice: Reading[];
  shares: { key: string; word: string; meaning: string }[];
  apart: { cheeks: number; oval: number };
  declared: string[];
  cultivars: Cultivar[];
}

/** Cells are named `suture_mm 3` for the third fruit, `shape` for the whole sample. `typed` is not taken yet. `saved`: the cells as they
 * stand in a file. `rev` counts the changes, so that the newer of two copies is known. */
export interface Sample {
  day: string;
  cultivar: string;
  pick: number;
  looked: boolean;
  picked: boolean;
  cells: Record<string, string>;
  typed: { at: string; text: string } | null;
  undo: [at: string, before: string][];
  saved: string;
  gone: boolean;
  rev: number;
}

/** Values that differ from what this page sent before: `whole` is their name, `values` a line each. */
export interface Differs {
  day: string;
  whole: string;
  count: number;
  values: string[];
}
/** One cell to be typed into: what is possible, what is usual, and from how many digits on it may be whole by itself. `times`: what is
 * kept for one that was typed. */
export interface Field {
  at: string;
  key: string;
  fruit: number;
  word: string;
  unit: string;
  decimals: number;
  possible: [number, number];
  usual: [number, number];
  past?: boolean;
  least: number;
  times: number;
  hint: string;
  /** What can be pressed in place of being typed. */
  offered: number[];
}
export interface Doubt {
  ats: string[];
  text: string;
}
/** What is kept, and whether this browser keeps it: `kept` for other tabs and later visits, `lasting` even where it is killed. */
export interface Store {
  samples: Map<string, Sample>;
  said: { kept: boolean; lasting: boolean; waiting: number };
  /** Once both copies are read. */
  ready: Promise<void>;
  /** What another page wrote is read. */
  look(): Promise<void>;
  /** Whose turn it is, for other pages. */
  stake(page: string): void;
  change(id: string, act: (sample: Sample) => void): void;
}
/** One tab at one sample: where it is, what was refused there, what else is to be said, whether somebody pressed the cell, and the cell that was left
 * without Enter, with its text. */
export interface Place {
  id: string;
  at: string;
  refused: string;
  told: string;
  chosen: boolean;
  stale: boolean;
  came: { at: string; text: string } | null;
  way: string;
}
