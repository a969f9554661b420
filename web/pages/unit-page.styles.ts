import { css } from 'lit';

export const unitPageStyles = css`
  nav {
    margin-block-start: 1rem;
  }

  .back-then {
    border-inline-start: 3px solid var(--ink);
    padding-inline-start: 0.75rem;
  }

  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 0.4rem 1.25rem;
    align-items: center;
    font-size: 0.8125rem;
  }

  .unassessed {
    display: grid;
    gap: 0.6rem;
    max-width: 48rem;
  }

  .verdicts {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(100%, 30rem), 1fr));
    gap: 0 2.5rem;
  }

  .columns {
    display: grid;
    grid-template-columns: minmax(0, 1fr) 22rem;
    gap: 0 2.5rem;
  }

  section {
    margin-block-end: 1.75rem;
    border-block-start: 1px solid var(--rule-strong);
    padding-block-start: 0.75rem;
  }

  .key {
    font-size: 0.75rem;
    max-width: 60rem;
    margin-block-end: 0.6rem;
  }

  .history {
    --chart-height: 4rem;
  }

  .side {
    font-size: 0.8125rem;
  }

  .side ul,
  .side ol,
  .without {
    margin: 0;
    padding-inline-start: 1.1rem;
    display: grid;
    gap: 0.5rem;
  }

  .without {
    font-size: 0.8125rem;
    gap: 0.15rem;
  }

  .register {
    display: grid;
    grid-template-columns: fit-content(60%) minmax(0, 1fr);
    gap: 0.15rem 1rem;
    margin: 0;
  }

  .register dt {
    color: var(--ink-soft);
  }

  .register dd {
    margin: 0;
    overflow-wrap: anywhere;
  }

  @media (max-width: 62rem) {
    .columns {
      grid-template-columns: minmax(0, 1fr);
    }
  }

  @media print {
    .columns {
      display: block;
    }

    section,
    component-verdict,
    indicator-figure {
      break-inside: avoid;
    }
  }
`;
