/** A page that opens with what it found in one sentence, its parts under rules. */
import { css } from 'lit';

export const reportPage = css`
  header {
    margin-block: 0.8rem 1rem;
    display: grid;
    gap: 0.3rem;
    max-width: 70rem;
  }

  h1 {
    font-size: clamp(1.1rem, 0.95rem + 0.5vw, 1.4rem);
  }

  h2 {
    font-size: 1.15rem;
  }

  section {
    margin-block-end: 1.75rem;
    border-block-start: 1px solid var(--rule-strong);
    padding-block-start: 0.75rem;
  }

  section.note {
    border: 0;
  }
`;
