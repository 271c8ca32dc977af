with class_units as (
    select * from {{ ref('int_fidelity_class_units') }}
),

level_units as (
    select * from {{ ref('int_fidelity_level_units') }}
),

units as (
    select * from class_units
    union all
    select * from level_units
),

counted as (
    select
        *,
        {%- for side in ['adherence', 'quality', 'responsiveness'] %}
        case when {{ side }} is null then 0 else 1 end as {{ side }}_seen,
        count({{ side }}) over cell as {{ side }}_count,
        {%- endfor %}
        case when sum(enrolled) over cell > 0 then 1 else 0 end as has_exposure
    from units
    window cell as (
        partition by
            school_id, level_code, class_id, grade_code, tier_code, routine_id, term_id, window_code
    )
),

-- The side that rests on the fewest visits or classes says how many there are; sides that were
-- never seen do not count. A cell is resampled when its figure is given and rests on enough.
judged as (
    select
        *,
        least(
            adherence_count,
            case when quality_count > 0 then quality_count else adherence_count end,
            case when responsiveness_count > 0 then responsiveness_count else adherence_count end
        ) as fewest_count,
        1 + has_exposure
        + case when quality_count > 0 then 1 else 0 end
        + case when responsiveness_count > 0 then 1 else 0 end as side_count
    from counted
    where adherence_count > 0
)

select *
from judged
where
    fewest_count >= {{ threshold('interval_sessions') }}
    and side_count >= {{ threshold('min_dimensions') }}
