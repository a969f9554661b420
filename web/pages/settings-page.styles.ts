import { css } from 'lit';

export const settingsPageStyles = css`
  header {
    margin-block-start: 1.25rem;
  }

  section {
    max-width: 72rem;
    margin-block-end: 1.75rem;
    border-block-start: 1px solid var(--rule-strong);
    padding-block-start: 0.75rem;
  }

  .lead {
    max-width: 60rem;
    margin-block-end: 0.5rem;
  }

  .save {
    position: sticky;
    inset-block-end: 0;
    display: flex;
    flex-wrap: wrap;
    gap: 0.5rem 0.75rem;
    align-items: center;
    background: var(--paper);
    border-block-start: 1px solid var(--rule-strong);
    padding-block: 0.6rem;
  }

  .save button:disabled {
    opacity: 1;
    background: none;
    color: var(--ink-soft);
    border-color: var(--rule-strong);
    cursor: default;
  }
`;
