/** A form in a dialog: one field below the other, the buttons at the end. */
import { css } from 'lit';

export const dialogForm = css`
  form {
    display: grid;
    gap: 0.9rem;
  }

  label {
    display: grid;
    gap: 0.2rem;
  }

  .buttons {
    display: flex;
    flex-wrap: wrap;
    gap: 0.5rem;
    justify-content: end;
  }
`;
