/** What a sheet says of the test source and of what the inputs of the relay stand. */
import type { Typed, TypedTolerance } from "./typed.js";

/** What a channel of the source can drive; power and compliance need the burden. */
export interface SheetOutput {
  /** Size of the impedance that it feeds, leads included, such as `"0.2 ohm"`. */
  readonly burden?: Typed | undefined;
  /** What it puts into the burden at most, such as `"150 VA"`. */
  readonly power?: Typed | undefined;
  /** The voltage that a current channel can drive across its burden. */
  readonly compliance?: Typed | undefined;
  /** Levels that it can hold for a limited time; after `restTime` at or below the level the time begins anew. */
  readonly duty?:
    | readonly { readonly above: Typed; readonly atMost: Typed; readonly restTime?: Typed | undefined }[]
    | undefined;
}

/** What the test source at hand offers. */
export interface SheetSource {
  /** Default 3; 6 feed both sides of a differential zone three-phase. */
  readonly currentChannels?: 1 | 3 | 6 | undefined;
  /** Default 3. */
  readonly voltageChannels?: 1 | 3 | undefined;
  /** The most that one channel can put out, rms; absent: not checked. */
  readonly maximumCurrent?: Typed | undefined;
  readonly maximumVoltage?: Typed | undefined;
  /** The range of frequencies that it can put out. */
  readonly frequency?: { readonly minimum: Typed; readonly maximum: Typed } | undefined;
  /** What else limits a current channel. */
  readonly currentOutput?: SheetOutput | undefined;
  /** What else limits a voltage channel. */
  readonly voltageOutput?: Omit<SheetOutput, "compliance"> | undefined;
  /** How far off the source (or the meter that checks it) may be; it enters no-operation levels and the judgement. */
  readonly accuracy?:
    | {
        readonly current?: TypedTolerance | undefined;
        readonly voltage?: TypedTolerance | undefined;
        readonly frequency?: TypedTolerance | undefined;
        readonly time?: TypedTolerance | undefined;
      }
    | undefined;
}

/** What one kind of input of the relay stands, from the relay's own document. */
export interface SheetInputRating {
  /** Rms that it carries for ever. */
  readonly continuous?: Typed | undefined;
  /** Rms that it carries from cold for a time. */
  readonly shortTime?: { readonly value: Typed; readonly time: Typed } | undefined;
}

/** What the inputs of the relay stand; absent: not checked. */
export interface SheetInputs {
  readonly current?: SheetInputRating | undefined;
  readonly voltage?: SheetInputRating | undefined;
  /** The input `ig`, which often stands less. */
  readonly ground?: SheetInputRating | undefined;
}
