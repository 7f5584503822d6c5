/**
 * The JSON Schema of a record, made from its types: they are the one description of what a record holds. Goes into the
 * package as a file of its own, and is not kept in the tree, so that it cannot be stale.
 */
import { createGenerator } from "ts-json-schema-generator";

/** Data may carry extra keys; what is there must be of its type. */
export const recordSchema = () => ({
  title: "tripwright test record",
  ...createGenerator({
    path: "src/record/verdict.ts",
    tsconfig: "tsconfig.json",
    type: "TestRecord",
    additionalProperties: true,
    skipTypeCheck: true,
  }).createSchema("TestRecord"),
});
