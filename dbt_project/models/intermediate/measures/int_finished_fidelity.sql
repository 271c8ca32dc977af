with classes as (
    select * from {{ ref('int_rollup_classes') }}
),

levels as (
    select * from {{ ref('int_rollup_levels') }}
),

resampled as (
    select * from {{ ref('int_fidelity_ranges') }}
    where standard_error > 0.0
),

-- The dimensions of Dane & Schneider (1998) that the feeds can show.
dimensions as (
    select
        *,
        {{ side_weight('measure_name') }} as weight
    from classes
    where measure_name in ('adherence', 'exposure', 'quality', 'responsiveness')
    union all
    select
        *,
        {{ side_weight('measure_name') }} as weight
    from levels
    where measure_name in ('adherence', 'exposure', 'quality', 'responsiveness')
),

-- Without resampling the range is the mean of the dimensions' ranges: exact when they err together,
-- too wide when they do not, never too narrow.
combined as (
    select
        school_id,
        level_code,
        class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        week_first_on,
        min_by(measure_name, {{ in_turn(['round(value, 9)', 'measure_name']) }}) as detail,
        max(session_count) filter (where measure_name = 'adherence') as session_count,
        max(day_count) filter (where measure_name = 'adherence') as day_count,
        max(class_count) filter (where measure_name = 'adherence') as class_count,
        max(thin_count) filter (where measure_name = 'adherence') as thin_count,
        max(unit_count) filter (where measure_name = 'adherence') as unit_count,
        sum(weight * value) as numerator_count,
        sum(weight) as denominator_count,
        {%- for end in ['low', 'high', 'low_one_sided', 'high_one_sided'] %}
        case when count({{ end }}) = count(*) then sum(weight * {{ end }}) end
        / nullif(sum(weight), 0.0) as mean_{{ end }},
        {%- endfor %}
        sum(weight * value) / nullif(sum(weight), 0.0) as value,
        sum(weight * case when measure_name = 'exposure' then high else value end)
        / nullif(sum(weight), 0.0) as value_high
    from dimensions
    where value is not null
    group by
        school_id,
        level_code,
        class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        week_first_on
    having
        count(*) >= {{ threshold('min_dimensions') }}
        and count(*) filter (where measure_name = 'adherence') = 1
),

with_errors as (
    select
        combined.*,
        resampled.standard_error,
        resampled.standard_error_high,
        cast(resampled.session_count - 1 as double) as spread_df
    from combined
    left join resampled
        on
            {{ same_cell('combined', 'resampled') }}
            and combined.tier_code = resampled.tier_code
            and combined.week_first_on is null
),

with_margins as (
    select
        *,
        {{ fidelity_margin('low', threshold('ci_level')) }} as margin_low,
        {{ fidelity_margin('high', threshold('ci_level')) }} as margin_high,
        {{ fidelity_margin('low', '(2.0 * ' ~ threshold('upper_level') ~ ' - 1.0)') }}
            as margin_low_one_sided,
        {{ fidelity_margin('high', '(2.0 * ' ~ threshold('upper_level') ~ ' - 1.0)') }}
            as margin_high_one_sided
    from with_errors
),

-- Lessons that nobody wrote down are taken as not given at the lower end, as given at the upper.
final as (
    select
        *,
        {{ fidelity_end('low', 'margin_low') }} as low,
        {{ fidelity_end('high', 'margin_high') }} as high,
        {{ fidelity_end('low', 'margin_low_one_sided', '_one_sided') }} as low_one_sided,
        {{ fidelity_end('high', 'margin_high_one_sided', '_one_sided') }} as high_one_sided
    from with_margins
)

select * from final
