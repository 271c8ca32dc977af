with findings as (
    select * from {{ ref('fct_findings') }}
),

pupils as (
    select * from {{ ref('dim_people') }}
    where role = 'student'
),

messages as (
    select distinct message
    from findings
    where message is not null
),

words as (
    select
        message,
        {{ each_word('message') }} as word
    from messages
),

keys_told as (
    select distinct
        words.message,
        pupils.person_id
    from words
    inner join pupils on rtrim(words.word, '.:') = pupils.person_id
),

patterns as (
    select
        message,
        '(^|[^\w-])(' || string_agg('\Q' || person_id || '\E', '|') || ')($|[^\w-])' as pattern
    from keys_told
    group by message
),

-- Twice, because two keys side by side share the sign between them.
masked as (
    select
        message,
        regexp_replace(
            regexp_replace(message, pattern, '\1(a child)\3', 'g'), pattern, '\1(a child)\3', 'g'
        ) as told_message
    from patterns
)

select * from masked
