{%- set kinds = {
    'moment': ['moments_expected_count + moments_accommodated_count',
        'moments_expected_count + moments_accommodated_count + moments_not_expected_count'],
    'step': ['steps_done_count', 'steps_done_count + steps_not_done_count'],
    'voice': ['voice_match_count', 'voice_count'],
    'rating': ['ratings_sum', '3.0 * ratings_count'],
} -%}
with sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted and term_id is not null
),

terms as (
    select * from {{ ref('int_leaf_terms') }}
),

-- One score a visit, observer and kind; the same shares that the measures are means of.
scores as (
    {%- for kind, parts in kinds.items() %}
    select
        school_id,
        class_id,
        term_id,
        observation_id,
        visit_id,
        pair_id,
        observer_id,
        routine_id,
        observed_on,
        is_substitute,
        '{{ kind }}' as measure_kind,
        cast({{ parts[0] }} as double) / ({{ parts[1] }}) as score
    from sessions
    where {{ parts[1] }} > 0
    {%- if not loop.last %}
    union all
    {%- endif %}
    {%- endfor %}
),

placed as (
    select
        scores.*,
        terms.is_current_year
    from scores
    inner join terms on scores.school_id = terms.school_id and scores.term_id = terms.term_id
)

select * from placed
