import { css } from 'lit';

export const trackRecordPageStyles = css`
  .stale {
    border-inline-start: 3px solid var(--ink);
    padding-inline-start: 0.75rem;
  }
`;
