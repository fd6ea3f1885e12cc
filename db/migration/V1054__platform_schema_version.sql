-- The version of this schema, for archives; the history of migrations itself stays closed to the application.
create function rootling_schema() returns text
  language sql stable security definer set search_path = public, pg_temp
  as $$ select version from flyway_schema_history where success and version is not null order by installed_rank desc limit 1 $$;
revoke execute on function rootling_schema() from public;
grant execute on function rootling_schema() to "${app_role}";
