import { css } from 'lit';

export const importTableStyles = css`
  th,
  td {
    vertical-align: baseline;
  }

  .number {
    text-align: end;
  }

  th.file {
    white-space: normal;
    min-width: 13rem;
    width: 60%;
    overflow-wrap: anywhere;
  }

  .line {
    display: block;
  }

  td.reasons {
    white-space: normal;
    overflow-wrap: anywhere;
    padding-block-end: 0.75rem;
  }

  td.reasons ul {
    margin: 0;
    padding-inline-start: 1.1rem;
    display: grid;
    gap: 0.35rem;
  }

  .name-on-phone {
    display: none;
  }

  /* On a phone a file is a block of its own: its name, then what stands in the other columns with their names. */
  @media screen and (max-width: 46rem) {
    table,
    tbody,
    th.file,
    td.reasons {
      display: block;
    }

    thead,
    td.spare {
      display: none;
    }

    tbody tr {
      display: flex;
      flex-wrap: wrap;
      gap: 0.1rem 1.25rem;
      align-items: baseline;
      padding-block: 0.4rem;
      border-block-end: 1px solid var(--rule);
    }

    tbody th,
    tbody td {
      border: 0;
      padding: 0;
    }

    th.file {
      width: 100%;
      min-width: 0;
      order: -1;
    }

    .name-on-phone {
      display: inline;
      color: var(--ink-soft);
    }
  }
`;
