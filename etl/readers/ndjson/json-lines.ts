/** What a key of a JSON object may hold. */
export type JsonValue = string | number | boolean | object | null;
export type JsonObject = Record<string, JsonValue>;

/** The object on a line; null where there is none. */
export function objectOn(text: string): JsonObject | null {
  try {
    const value: unknown = JSON.parse(text.replace(/^\uFEFF/, ''));
    return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as JsonObject) : null;
  } catch {
    return null;
  }
}

/** Lists and structures are no cells. */
export function isNested(value: JsonValue | undefined): value is object {
  return typeof value === 'object' && value !== null;
}
