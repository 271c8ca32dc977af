{# Finished rows that set a group's turns over chances beside the others': rows of int_group_turns
   of one group. The gates are shut below the smallest group on either side: no value, no range.
#}
{% macro finished_turn_ratio(relation) -%}
    {%- set log_half_width -%}
        {{ two_sided_z(threshold('ci_level')) }}
        * sqrt(group_log_variance + other_log_variance)
    {%- endset -%}
    {%- set is_open -%}
        group_pupil_count >= {{ threshold('small_group') }}
        and other_pupil_count >= {{ threshold('small_group') }}
    {%- endset -%}
    {%- set ratio = 'group_ratio / nullif(other_ratio, 0)' -%}
    select
        {{ finished_row(
            value='case when ' ~ is_open ~ ' then ' ~ ratio ~ ' end',
            numerator='group_turn_count',
            denominator='group_expected_count',
            sessions='draw_day_count',
            days='draw_day_count',
            units='group_pupil_count',
            classes='class_count',
            low='case when ' ~ is_open ~ ' then ' ~ ratio
                ~ ' * exp(-' ~ log_half_width ~ ') end',
            high='case when ' ~ is_open ~ ' then ' ~ ratio
                ~ ' * exp(' ~ log_half_width ~ ') end'
        ) }}
    from {{ relation }}
{%- endmacro %}
