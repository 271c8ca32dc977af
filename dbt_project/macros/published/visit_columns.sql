{# What is told of one visit, the same for the support team and for the teacher. #}
{% macro visit_columns(row, starts) %}
    {{ row }}.term_id,
    {{ row }}.week_first_on,
    {{ row }}.observed_on,
    {{ starts }}.time_of_day_code,
    {{ row }}.setting,
    {{ row }}.activity,
    cast({{ row }}.expected_voice_level as bigint) as expected_voice_level,
    cast({{ row }}.minutes_observed as double) as minutes_observed,
    cast({{ row }}.minutes_instruction as double) as minutes_instruction,
    {{ row }}.purpose,
    {{ row }}.taught_by_role,
    {{ row }}.is_counted as is_scored,
    round({{ row }}.responsiveness_rate, 9) as responsiveness_rate,
    cast({{ row }}.moments_expected_count + {{ row }}.moments_accommodated_count as bigint)
        as responsiveness_met_count,
    cast(
        {{ row }}.moments_expected_count
        + {{ row }}.moments_accommodated_count
        + {{ row }}.moments_not_expected_count as bigint
    ) as responsiveness_count,
    round({{ row }}.adherence_rate, 9) as adherence_rate,
    cast({{ row }}.steps_done_count as bigint) as adherence_done_count,
    cast({{ row }}.steps_done_count + {{ row }}.steps_not_done_count as bigint) as adherence_count,
    round({{ row }}.quality_rate, 9) as quality_rate,
    cast({{ row }}.ratings_count as bigint) as quality_count,
    round({{ row }}.voice_match_rate, 9) as voice_match_rate,
    cast({{ row }}.voice_match_count as bigint) as voice_match_count,
    cast({{ row }}.voice_count as bigint) as voice_count,
    cast({{ row }}.opportunities_individual_count + {{ row }}.opportunities_group_count as bigint)
        as opportunity_count,
    cast({{ row }}.praise_count as bigint) as praise_count,
    cast({{ row }}.corrections_count as bigint) as correction_count
{%- endmacro %}
