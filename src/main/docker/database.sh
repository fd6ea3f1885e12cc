#!/bin/sh
# Makes the schema's owner, the application's role and the database; neither role is a superuser.
set -eu
psql -v ON_ERROR_STOP=1 -U postgres -v owner="$ROOTLING_OWNER_PASSWORD" -v app="$ROOTLING_APP_PASSWORD" <<'SQL'
create role rootling_owner login nosuperuser nocreatedb nocreaterole nobypassrls password :'owner';
create role rootling_app login nosuperuser nocreatedb nocreaterole nobypassrls password :'app';
create database rootling owner rootling_owner encoding 'UTF8' template template0;
revoke all on database rootling from public;
grant connect on database rootling to rootling_app;
SQL
