with measures as (
    select * from {{ ref('fct_measures_compared') }}
    where
        level_code = 'class'
        and window_code = 'term'
        and routine_id != '*'
        and measure_name in (
            {%- for name in offer_measures() %}
            '{{ name }}'{% if not loop.last %},{% endif %}
            {%- endfor %}
        )
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

routines as (
    select * from {{ ref('dim_routines') }}
),

readable as (
    select
        measures.school_id,
        measures.class_id,
        measures.routine_id,
        measures.term_id,
        measures.measure_name,
        measures.sufficiency,
        measures.session_count,
        measures.day_count,
        measures.numerator_count,
        measures.denominator_count,
        measures.value,
        measures.low,
        measures.high,
        measures.high_one_sided,
        measures.status,
        measures.previous_value,
        measures.previous_sufficiency,
        routines.kind,
        coalesce(
            measures.sufficiency in ('usable', 'solid')
            and measures.session_count >= {{ threshold('min_sessions') }}
            and measures.day_count >= {{ threshold('min_days') }}
            and measures.high_one_sided is not null,
            false
        ) as is_readable
    from measures
    inner join terms
        on
            measures.school_id = terms.school_id
            and measures.term_id = terms.term_id
    inner join routines on measures.routine_id = routines.routine_id
),

sided as (
    select
        *,
        is_readable and high_one_sided < {{ threshold('criterion') }} as is_below,
        is_readable
        and previous_sufficiency in ('usable', 'solid')
        and coalesce(high_one_sided < previous_value, false) as is_down,
        case
            when kind = 'voice' and measure_name = 'voice_match' then cast(0 as bigint)
            {%- for name in offer_measures() %}
            when measure_name = '{{ name }}' then {{ loop.index }}
            {%- endfor %}
        end as lead_order
    from readable
)

select * from sided
