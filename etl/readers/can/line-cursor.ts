/** A place in a line of bytes that ends in a newline, and what may stand there. Nothing is allocated for a line. */
export const [SPACE, TAB, RETURN, NEWLINE] = [32, 9, 13, 10];

export class LineCursor {
  /** Index of the next byte. */
  protected at = 0;

  protected blanks(bytes: Uint8Array): void {
    let at = this.at;
    while (bytes[at] === SPACE || bytes[at] === TAB || bytes[at] === RETURN) at++;
    this.at = at;
  }

  /** A word of printable bytes. */
  protected word(bytes: Uint8Array): boolean {
    let at = this.at;
    while (bytes[at]! > SPACE && bytes[at]! < 127) at++;
    const found = at > this.at && at - this.at <= 16;
    this.at = at;
    return found && (bytes[at] === SPACE || bytes[at] === TAB);
  }

  protected ends(bytes: Uint8Array): boolean {
    this.blanks(bytes);
    return bytes[this.at] === NEWLINE;
  }

  protected startsWith(bytes: Uint8Array, text: Uint8Array): boolean {
    for (let i = 0; i < text.length; i++) if (bytes[this.at + i] !== text[i]) return false;
    return true;
  }
}

/** Value of a hexadecimal digit, −1 for any other byte. */
export const HEX = Int8Array.from({ length: 256 }, (_, byte) =>
  '0123456789abcdef'.indexOf(String.fromCharCode(byte).toLowerCase()),
);
