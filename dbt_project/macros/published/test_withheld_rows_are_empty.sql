{#
    A withheld row says why and carries no figure; a row that is shown gives no reason.
    Looks at whichever of the figure columns the table has. A bound may stay only where the end of
    a share was coarsened.
#}
{% test withheld_rows_are_empty(model) %}
{%- set figures = [
    'value', 'numerator_count', 'denominator_count', 'unit_count', 'change_value', 'change_low',
    'change_high', 'change_code', 'pupil_count', 'finding_count', 'cycle_count', 'open_count',
    'closed_count', 'moved_count', 'same_count', 'early_count', 'waiting_count', 'held_count',
    'shown_class_count', 'last_value', 'median_value', 'mean_value', 'limit_low', 'limit_high'
] -%}
{%- set present = adapter.get_columns_in_relation(model) | map(attribute='name') | list -%}
select *
from {{ model }}
where
    is_withheld is null
    or is_withheld != (withheld_reason is not null)
    {%- for figure in figures if figure in present %}
    or (is_withheld and {{ figure }} is not null)
    {%- endfor %}
    {%- if 'low' in present %}
    or (
        is_withheld
        and withheld_reason is distinct from 'end_coarsened'
        and (low is not null or high is not null)
    )
    or (is_withheld and status is distinct from 'none')
    {%- endif %}
{% endtest %}
