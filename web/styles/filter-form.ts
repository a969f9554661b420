/** Filters in a line, each with its label above. */
import { css } from 'lit';

export const filterForm = css`
  form {
    display: flex;
    flex-wrap: wrap;
    gap: 0.5rem 0.75rem;
    align-items: end;
    margin-block: 0.4rem 0.6rem;
    font-size: 0.8125rem;
  }

  label {
    display: grid;
    grid-template-columns: minmax(0, max-content);
    max-width: 100%;
    gap: 0.1rem;
    font-size: 0.75rem;
    color: var(--ink-soft);
  }

  select {
    font-size: 0.8125rem;
    max-width: min(14rem, 100%);
  }
`;
