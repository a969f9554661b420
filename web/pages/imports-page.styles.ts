import { css } from 'lit';

export const importsPageStyles = css`
  header {
    margin-block-end: 0.5rem;
    overflow-wrap: anywhere;
  }

  h2 {
    margin-block-end: 0.3rem;
  }

  section {
    max-width: 90rem;
    overflow-wrap: anywhere;
  }

  section > p + p {
    margin-block-start: 0.4rem;
  }

  ul {
    margin: 0.3rem 0 0;
    padding-inline-start: 1.1rem;
    display: grid;
    gap: 0.3rem;
  }

  /* Unit numbers are short: so many stand in a line as there is room for. */
  ul.units {
    list-style: none;
    padding: 0;
    display: flex;
    flex-wrap: wrap;
    gap: 0.2rem 1.25rem;
  }

  input[type='search'] {
    width: min(18rem, 100%);
  }

  label.check {
    display: flex;
    gap: 0.4rem;
    align-items: center;
    min-height: 1.75rem;
  }
`;
