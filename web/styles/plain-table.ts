/** A table of text that scrolls sideways where the screen is narrow. */
import { css } from 'lit';

export const plainTable = css`
  /* Positioned, so that words for the ear alone, which are placed absolutely, are clipped with the table. */
  .scroll {
    overflow-x: auto;
    position: relative;
  }

  table {
    border-collapse: collapse;
    font-size: 0.8125rem;
    width: 100%;
  }

  th,
  td {
    text-align: start;
    font-weight: normal;
    padding: 0.2rem 1rem 0.2rem 0;
    border-block-end: 1px solid var(--rule);
    white-space: nowrap;
    font-variant-numeric: tabular-nums;
  }

  thead th {
    color: var(--ink-soft);
    border-block-end-color: var(--rule-strong);
  }
`;
