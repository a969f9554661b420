/** The head of a page about one thing, and the headings of its parts. */
import { css } from 'lit';

export const pageHead = css`
  header {
    margin-block: 0.5rem 1rem;
    display: grid;
    gap: 0.25rem;
  }

  h1 {
    font-size: 1.75rem;
  }

  h2 {
    font-size: 1.1rem;
    margin-block-end: 0.4rem;
  }
`;
