/**
 * Words for a terminal with what files wrote in them: a control character, which could move the cursor, clear the screen
 * or feign an answer, is shown as its code. Ends of line and tabs are the program's own.
 *
 * @example terminalWords('got \u001b[2Jfoo') // 'got \\x1b[2Jfoo'
 */
export function terminalWords(text: string): string {
  return text.replaceAll(CONTROL, (character) => `\\x${character.charCodeAt(0).toString(16).padStart(2, '0')}`);
}

/** All but tab and line feed. A carriage return would let the words after it overwrite those before. */
const CONTROL = /[^\P{Cc}\t\n]/gu;
