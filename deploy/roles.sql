-- Makes the database and its two roles; for psql 15 or later, as a superuser, once. Repeating it changes passwords only.
--   derivid_owner  owns the tables and changes them (the service's run mode --migrate)
--   derivid        the service itself: reads and writes rows, and can neither change a table nor drop a trigger, so that
--                  the audit log stays append-only even for somebody who got hold of its password
-- Passwords come from the environment: DERIVID_OWNER_PASSWORD, DERIVID_DB_PASSWORD. Another database's name:
-- psql -v database=NAME -f roles.sql
\set ON_ERROR_STOP on
\if :{?database}
\else
  \set database derivid
\endif
\getenv owner_password DERIVID_OWNER_PASSWORD
\getenv service_password DERIVID_DB_PASSWORD

SELECT format('CREATE ROLE %I LOGIN', role) FROM unnest(ARRAY['derivid_owner', 'derivid']) AS role
WHERE NOT EXISTS (SELECT FROM pg_roles WHERE rolname = role) \gexec
ALTER ROLE derivid_owner PASSWORD :'owner_password';
ALTER ROLE derivid PASSWORD :'service_password';

SELECT format('CREATE DATABASE %I OWNER derivid_owner TEMPLATE template0 ENCODING ''UTF8''', :'database')
WHERE NOT EXISTS (SELECT FROM pg_database WHERE datname = :'database') \gexec
REVOKE ALL ON DATABASE :"database" FROM PUBLIC;
GRANT CONNECT ON DATABASE :"database" TO derivid;

\connect :"database"
GRANT USAGE ON SCHEMA public TO derivid;
ALTER DEFAULT PRIVILEGES FOR ROLE derivid_owner IN SCHEMA public
    GRANT SELECT, INSERT, UPDATE, DELETE ON TABLES TO derivid;
ALTER DEFAULT PRIVILEGES FOR ROLE derivid_owner IN SCHEMA public
    GRANT USAGE, SELECT ON SEQUENCES TO derivid;
