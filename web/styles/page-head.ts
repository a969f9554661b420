/** The head of a page about one thing, and the headings of its parts. */
import { css } from 'lit';

export const pageHead = css`
  /* A column that may shrink: a unit number without a blank breaks anywhere rather than widen the page. */
  header {
    margin-block: 0.5rem 1rem;
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 0.25rem;
    overflow-wrap: anywhere;
  }

  h1 {
    font-size: 1.75rem;
  }

  h2 {
    font-size: 1.1rem;
    margin-block-end: 0.4rem;
  }
`;
