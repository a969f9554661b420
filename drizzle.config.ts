import { defineConfig } from 'drizzle-kit';

export default defineConfig({
  dialect: 'sqlite',
  schema: './etl/store/schema/*.ts',
  out: './etl/store/migrations',
});
