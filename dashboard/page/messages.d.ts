// What the page's elements on the server and their scripts in the browser say to each other: each element's own parameters, which the
// script reads, and what the script sends, which `heard` of the class of the same name is given. `told` is the JSON of a `…Told`.
// tests/scripts holds the scripts against this, and this against the classes.

export interface Page<Element> {
  model: Element;
  el: HTMLElement;
}
interface Listening<Sent> {
  send_msg(message: Sent): void;
  get_child(name: string): HTMLElement;
  /** `names`: parameters, or `remove`, `after_layout`, `msg:custom` (what the server sends by `send`). */
  on(names: string | string[], act: (message?: any) => void): void;
}
type Press = Record<string, never>;

export interface Button extends Listening<Press> {
  label: string;
  variant: "contained" | "outlined" | "text";
  disabled: boolean;
}

/** `query`: of another view of the page; empty for the address as it stands. */
export interface Copying extends Listening<Press> {
  label: string;
  query: string;
}

export interface TabBar extends Listening<{ open: number }> {
  names: string[];
  first: number[];
  narrow: number;
  active: number;
}

interface Group {
  field: string;
  label: string;
  single: boolean;
  look: string;
  fold: string;
  options: { value: string; label: string }[];
  /** A field for a whole number: its label, its units with their words, least and most, and what is said of anything else. */
  typed?: { label: string; units: [string, string, number, number][]; wrong: string };
}
/** For each group: how many cultivars each option would leave, the places of the chosen ones, whether it has no meaning now, whether it is
 * set where it lies folded, and a word on whom it leaves out. */
export type ChoicesTold = { left: number[]; chosen: number[]; away?: boolean; set?: boolean; note?: string }[];
export interface ChoiceBoxes extends Listening<{ tick: number; field: string; chosen: string[] }> {
  groups: Group[];
  told: string;
  answered: number;
}

/** `told` is the JSON of both days as they stand; `end` 0 is the first and 1 the last. */
export interface SellingDays extends Listening<{ end: number; typed: string }> {
  told: string;
}

export interface Column {
  key: string;
  label: string;
  kind?: string;
  meaning?: string;
  sorts?: boolean;
  /** How its cells are drawn, what their figures are called where there is little room, and the limits on their axis. */
  look?: string;
  short?: string;
  unit?: string;
  limits?: (number | null)[];
}
/** A cell is a text, or where it is drawn its text, what is written there, and the figures drawn beside it, parts of an axis. */
export interface TableRow {
  id: string;
  name?: string;
  look?: string;
  cells: any[];
}
export interface RowsTold {
  columns: Column[];
  rows: TableRow[];
  title?: string;
  page?: number;
  pages?: number;
  total?: number;
  sort?: [string, boolean];
  empty?: string;
  asked?: number;
  gaps?: string;
}
export interface RowTable extends Listening<{ open: string } | { keep: string } | { bar: string } | { sort: string } | { page: number }> {
  told: string;
}

/** `words` is the server's own markup, in which a button says by `data-keep` or `data-open` which cultivar is meant. */
export interface Pressable extends Listening<{ open: string } | { keep: string }> {
  words: string;
}
/** Where the server sets `open` it has made what lies within. */
export interface Fold extends Listening<{ open: boolean }> {
  heading: string;
  open: boolean;
  inside: unknown;
}

export interface FinderTold {
  part: string;
  hits: [name: string, about: string][];
  held?: boolean;
  note?: string;
  more?: number;
}
export interface Finder extends Listening<{ find: string } | { take: string }> {
  label: string;
  value: string;
  large: boolean;
  disabled: boolean;
  told: string;
}

/** The server sends `{ file, content }` once a file is made. */
export interface Downloads extends Listening<{ make: number } | { stop: true }> {
  labels: string[];
  told: string;
  busy: boolean;
}

/** A picture that can be saved: its key, its title, and the figures on the page that it is taken from. */
export type Offered = [key: string, title: string, figures: string[]];
/** What the server sends of a picture that was asked for; `drawn` is the server's own markup with its width and height, where it is no figure. */
export interface SavedPicture {
  kind: "svg" | "png";
  file: string;
  title: string;
  figures: string[];
  drawn: [markup: string, width: number, height: number] | null;
  over: string[];
  reads: string[];
  marks: [mark: string, words: string][];
  under: string[];
}
/** The server sends `{ offered }` when the menu is opened, a `SavedPicture`, or `{ refused }`. */
export interface PictureSaver extends Listening<{ open: true } | { save: string; kind: "svg" | "png" }> {
  font: string;
  ink: string;
  paper: string;
}

export interface Header
  extends Listening<{ act: "undo" | "redo" | "before" | "next" } | { sheet: "" | "share" | "present"; at?: string } | { units: string }> {
  title: string;
  whose: string;
  invented: string;
  behind: boolean;
  ahead: boolean;
  strayed: boolean;
  views: number;
  at: number;
  sheet: "" | "share" | "present";
  units: string;
  offered: [value: string, words: string][];
}

/** Its `told` is the JSON of three texts: buyer, filters, fill. */
export interface Quick extends Listening<{ fill: true }> {
  told: string;
}

/** A file from the visitor's disk, in base 64; `content` is empty where it is too large to be sent. */
export interface Brought {
  file: string;
  size: number;
  content: string;
}

export interface MarketPart {
  id: string;
  what: "limit" | "wish";
  title: string;
  place: string;
  unit?: string;
  note?: string;
  shape?: "larger" | "smaller" | "target";
  fields?: [field: string, label: string, text: string][];
  words?: [word: string, on: boolean][];
}
export interface MarketTold {
  tick: number;
  title: string;
  standing: string;
  back: string;
  saves: boolean;
  name: string;
  summary: string;
  note: string;
  added: string;
  parts?: MarketPart[];
  missing: Record<"limit" | "wish", [key: string, title: string][]>;
  fault?: { part: string; field: string; text: string };
}
type MarketAct =
  | { act: "remove"; part: string }
  | { act: "add"; what: string; key: string }
  | { act: "back" | "save" }
  | ({ act: "open" } & Brought);
/** `set`: what was changed and not yet sent, as part, field and value; `tick` numbers the messages, and what is told answers one. */
export interface MarketEditor
  extends Listening<{ tick: number; set: [part: string, field: string, value: string | boolean][] } & (MarketAct | { act?: undefined })> {
  told: string;
  saved: string;
}

export interface RunningTold {
  about: string[];
  names?: string[];
  notes: string[];
  longest: number;
  at: number;
  faults: string[];
  heard: number;
}
export type RunningAct =
  | { act: "keep"; name: string }
  | { act: "walk"; by: number }
  | { act: "save" }
  | { act: "open" | "off" | "over"; place: number }
  | { act: "rename"; place: number; name: string }
  | { act: "note"; place: number; note: string }
  | { act: "move"; place: number; by: number }
  | ({ act: "bring" } & Brought);
/** `text`: the list as its file; `theirs`: what another page of this browser wrote meanwhile, `base` what both had before. */
export interface KeptViews extends Listening<{ theirs: string; base: string }> {
  title: string;
  text: string;
  said: number;
}
export interface RunningOrder extends Listening<RunningAct> {
  told: string;
  saved: string;
}

/** Places are parts of the selling days, from 0 to 1. `at`: usual first and last day, then the ends of their doubt. */
export interface SeasonLine {
  name: string;
  flesh: string;
  look: "full" | "hatched" | "hollow";
  kept: boolean;
  check: boolean;
  when: string;
  at: [number, number, number, number];
  tip: string;
}
export interface SeasonTold {
  heading?: string;
  said: string[];
  marks: [number, string][];
  gaps: [number, number, string][];
  slate: SeasonLine[];
  others: string;
  rest: string[];
  classes: { kind: string; told: string; open: boolean; band: number[]; rows: SeasonLine[] }[];
}
export interface SeasonRows extends Listening<{ open: string } | { keep: string } | { fold: string }> {
  told: string;
}

/** Days are places from the first selling day on; a day's cell is 0 bare, 1 only with what may qualify, 2 covered, 3 almost always. */
export interface StripBar {
  name: string;
  flesh: string;
  first: number;
  last: number;
  look: "full" | "hatched" | "hollow";
  tip: string;
}
export interface StripRow {
  buyer: string;
  cells: string;
  chances: number[];
  told: string;
  gaps: [first: number, last: number, label: string][];
  /** Of each gap, how near its days come. */
  near: string[];
}
export interface StripTold {
  days: number;
  heading: string;
  ends: [first: string, last: string];
  marks: [day: number, label: string][];
  dates: string[];
  certainty: number;
  years: string;
  rows: StripRow[];
  bars: StripBar[];
  said: string[];
  /** That years move the bars, where they leave a hole that is no gap. */
  usual: string;
  fill: string;
}
/** `end` 0 is the first selling day and 1 the last: typed, or moved `by` so many days. */
export interface SlateStrip
  extends Listening<
    | { open: string }
    | { gap: [first: number, last: number]; row: number }
    | { certainty: number }
    | { end: number; typed: string }
    | { end: number; by: number }
    | { fill: true }
  > {
  told: string;
}

/** `missed`: what named no cultivar for certain, the spellings it may have been meant for, and its place among all of them. */
export interface NameListsTold {
  title?: string;
  ready: string[];
  faults: string[];
  said: string[];
  missed: { text: string; near: string[]; at: number }[];
  more: string;
}
export type NameListsAct =
  | { act: "paste"; size: number; text: string }
  | ({ act: "bring" } & Brought)
  | { act: "use"; at: number; name: string }
  | { act: "ready"; at: number };
export interface NameLists extends Listening<NameListsAct> {
  told: string;
}

/** `sample`: whether there is an invented place to try. */
export interface WeatherTold {
  about: string;
  faults: string[];
  brought: boolean;
  sample: boolean;
  reading: boolean;
}
/** A file travels in `of` pieces, from 0. */
export type WeatherAct = { act: "off" | "try" | "stop" } | ({ act: "piece"; at: number; of: number } & Brought);
export interface WeatherBringing extends Listening<WeatherAct> {
  told: string;
}

/** A field is typed in, or one of its `options` is taken; `hint` stands where nothing is typed. A week's field is its first day, "06-17". */
export interface OrderField {
  field: string;
  label: string;
  value: string;
  hint?: string;
  text?: boolean;
  options?: [value: string, label: string][];
}
export interface OrderAskingTold {
  first: OrderField[];
  rest: OrderField[];
  weeks: OrderField[];
  file: string;
  faults: string[];
}
export interface OrderAsking extends Listening<{ field: string; value: string } | ({ field: "file"; value: string } & Brought)> {
  told: string;
}

/** `over`: what is laid over the picture, or taken away again; `close` takes away whatever lies on top. */
export type HallAct =
  | { act: "step" | "view" | "move"; by: number }
  | { act: "keep" | "traits" | "undo" | "redo" | "leave" | "first" | "limit" | "chill" | "clear" | "close" | "back" }
  | { act: "over"; what: "against" | "names" | "code" | "evidence"; at?: string }
  | { act: "move"; to: string }
  | { act: "speak"; name: string };
export interface Hall extends Listening<HallAct> {
  told: string;
  finder: unknown;
  picture: unknown;
  days: unknown;
}

declare global {
  const Bokeh: any;
  interface Window {
    Bokeh: any;
    /** Set by parts/files.js. `brought`: what is chosen in a file's input, null for nothing. `taken`: a file goes to the disk. */
    files: {
      brought(input: HTMLInputElement): Promise<Brought | null>;
      taken(el: HTMLElement, name: string, content: BlobPart, type?: string): void;
    };
  }
}
