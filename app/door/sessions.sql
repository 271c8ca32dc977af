-- What the door keeps: who is signed in, who tried, who is on the way. Written by the door alone.
-- Of every secret only the SHA-256 is stored; of typed names and addresses too.
create table if not exists session (
    token_sha256 blob primary key,
    subject text not null,                  -- account:<id> or oidc:<issuer> <subject>
    version integer not null,               -- of the account when the visit began; 0 without one
    shown_name text not null,
    reader text not null,                   -- as the provider said; an account is asked each time
    source text not null,                   -- password, demo, proxy or oidc
    begun_at real not null,
    seen_at real not null,
    ends_at real not null,
    person_id text not null default ''      -- in the people file, as the provider said
);
create index if not exists session_by_subject on session (subject);

create table if not exists attempt (
    key_sha256 blob primary key,
    attempt_count integer not null,
    last_at real not null
);

create table if not exists errand (
    token_sha256 blob primary key,
    content text not null,
    ends_at real not null
);
