-- A person who chooses no language gets the browser's.
alter table account drop constraint account_locale_check;
alter table account add constraint account_locale_check check (locale in ('auto', 'en', 'de', 'fr'));
alter table account alter column locale set default 'auto';
