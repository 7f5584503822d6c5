/** What is handed over, before it takes a form: sections of text, lists, facts and tables. Every text is still raw. */
import type { Noted } from "./notes.js";

/** A cell of a table: plain, or one that must not be overlooked. */
export type CellText = string | { readonly loud: string };

/** One block of a section. */
export type Block =
  | { readonly block: "text"; readonly text: string; readonly loud?: true }
  | { readonly block: "list"; readonly items: readonly string[] }
  /** Names and values, such as the CT ratio. */
  | { readonly block: "facts"; readonly facts: readonly (readonly [name: string, value: string])[] }
  | {
      readonly block: "table";
      /** What it shows, for those who cannot see it. */
      readonly caption: string;
      readonly header: readonly string[];
      readonly rows: readonly (readonly CellText[])[];
      /** The headings of columns that hold sentences, and are wide enough for them. */
      readonly prose?: readonly string[];
      /** Rows to be written in by hand are tall. */
      readonly blank?: true;
    }
  /** A drawing that was checked, with what it shows in words. */
  | { readonly block: "figure"; readonly svg: string; readonly description: string; readonly caption?: string };

/** A titled part; depth 2 is a chapter, 3 a part of one. */
export interface Section {
  readonly title: string;
  readonly depth: 2 | 3;
  readonly blocks: readonly Block[];
}

/** A whole document. */
export interface Handover {
  readonly title: string;
  /** Under the title, before the first section. */
  readonly opening: readonly Block[];
  readonly sections: readonly Section[];
  /** Of the checks that the text may name. */
  readonly ids: readonly string[];
}

export const paragraph = (text: string): Block => ({ block: "text", text });

/** A section with a list, or none where there is nothing to list. */
export const listed = (title: string, items: readonly string[]): Section[] =>
  items.length === 0 ? [] : [{ title, depth: 2, blocks: [{ block: "list", items }] }];

/** The notes that the rows of a table refer to, or nothing. */
export const notesAbove = ({ notes }: Noted): Block[] => (notes.length === 0 ? [] : [{ block: "list", items: notes }]);
