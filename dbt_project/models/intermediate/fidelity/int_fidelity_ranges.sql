{%- set cell = [
    'school_id', 'level_code', 'class_id', 'grade_code', 'tier_code', 'routine_id', 'term_id',
    'window_code',
] -%}
with units as (
    select * from {{ ref('int_fidelity_units') }}
),

-- Visits and weeks of lessons are drawn again apart from each other, each unit with all its sides.
drawn as (
    {{ bootstrap_sums(
        'units',
        cell + ['unit_kind', 'fewest_count', 'side_count'],
        [
            'adherence', 'quality', 'responsiveness', 'adherence_seen', 'quality_seen',
            'responsiveness_seen', 'reached', 'reached_high', 'enrolled',
        ],
        threshold('bootstrap_resamples'),
        threshold('bootstrap_seed')
    ) }}
),

sides as (
    select
        {{ cell | join(', ') }},
        resample_number,
        fewest_count as session_count,
        side_count,
        sum(adherence) / nullif(sum(adherence_seen), 0) as adherence,
        sum(quality) / nullif(sum(quality_seen), 0) as quality,
        sum(responsiveness) / nullif(sum(responsiveness_seen), 0) as responsiveness,
        sum(reached) / nullif(sum(enrolled), 0.0) as exposure,
        sum(reached_high) / nullif(sum(enrolled), 0.0) as exposure_high
    from drawn
    group by {{ cell | join(', ') }}, resample_number, fewest_count, side_count
),

-- A draw in which a side happens to be missing says nothing about the mean of all sides.
figures as (
    select
        *,
        {{ weighted_sides('exposure') }} as figure,
        {{ weighted_sides('exposure_high') }} as figure_high
    from sides
    where
        side_count = case when adherence is null then 0 else 1 end
        + case when quality is null then 0 else 1 end
        + case when responsiveness is null then 0 else 1 end
        + case when exposure is null then 0 else 1 end
),

of_figures as (
    {{ bootstrap_range('figures', cell, 'figure', threshold('ci_level')) }}
),

of_high_figures as (
    {{ bootstrap_range('figures', cell, 'figure_high', threshold('ci_level')) }}
),

final as (
    select
        {%- for key in cell %}
        of_figures.{{ key }},
        {%- endfor %}
        of_figures.session_count,
        of_figures.standard_error,
        of_high_figures.standard_error as standard_error_high
    from of_figures
    inner join of_high_figures on {{ same_keys('of_figures', 'of_high_figures', cell) }}
)

select * from final
