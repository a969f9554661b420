import { css } from 'lit';

export const priorityPageStyles = css`
  @media print {
    :host {
      page: ledger;
    }
  }

  header {
    margin-block: 0.8rem 0.7rem;
    display: grid;
    gap: 0.2rem;
  }

  h1 {
    font-size: clamp(1.1rem, 0.95rem + 0.5vw, 1.4rem);
  }

  .stale {
    border-inline-start: 3px solid var(--ink);
    padding-inline-start: 0.75rem;
  }

  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 0.25rem 1.5rem;
    align-items: center;
    margin-block: 0.4rem 0;
    font-size: 0.8125rem;
  }

  .tools button.quiet {
    padding-inline: 0;
  }

  .tools .ways {
    display: flex;
    gap: 1.25rem;
    align-items: center;
  }

  /* Keys are for those who have a keyboard. */
  @media (hover: none) and (pointer: coarse) {
    .tools .keys {
      display: none;
    }
  }

  .tools .news {
    flex: 1 1 auto;
    font-weight: 600;
  }

  .legend {
    display: flex;
    flex-wrap: wrap;
    gap: 0.1rem 1rem;
    font-size: 0.75rem;
  }

  .legend svg {
    vertical-align: -0.15em;
  }

  .legend .bar {
    fill: var(--ink-soft);
    fill-opacity: 0.35;
    stroke: var(--ink-soft);
  }

  .legend .mid {
    stroke: var(--ink-soft);
    stroke-width: 3;
  }

  .legend .visit {
    fill: var(--ink);
    stroke: var(--ink);
  }

  .legend .visit.assumed {
    fill: none;
  }

  .legend .today {
    stroke: var(--ink);
    stroke-dasharray: 2 2;
  }

  .none {
    padding: 2rem 0.5rem;
  }

  assumption-list {
    margin-block: 1.5rem 0.75rem;
  }

  .words {
    margin-block-end: 3rem;
  }

  .words summary {
    cursor: pointer;
    font-weight: 600;
  }

  .words dl {
    display: grid;
    grid-template-columns: minmax(6rem, max-content) minmax(0, 48rem);
    gap: 0.3rem 1.5rem;
    font-size: 0.8125rem;
  }

  .words dt {
    font-weight: 600;
  }

  .words dd {
    margin: 0;
  }
`;
