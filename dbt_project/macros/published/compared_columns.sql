{#
    Own past: the same group's figure in the term before. Hidden where that row was withheld.
    `shows_all` is for a room, whose teacher may read all of her own class.
#}
{% macro previous_columns(row, shows_all=false) %}
    {%- set of = row ~ '.' if row else '' %}
    {%- set hidden = 'false' if shows_all else of ~ 'previous_reason is not null' %}
    {%- set changed = 'false' if shows_all else of ~ 'reason is not null' %}
    {{ of }}previous_term_id,
    {%- for figure in ['value', 'low', 'high'] %}
    case
        when not ({{ hidden }}) then round(cast({{ of }}previous_{{ figure }} as double), 9)
    end as previous_{{ figure }},
    {%- endfor %}
    case when {{ hidden }} then 'none' else {{ of }}previous_sufficiency end
        as previous_sufficiency,
    case
        when
            not ({{ hidden }})
            and not ({{ changed }})
            and {{ of }}is_comparable
            and {{ of }}sufficiency in ('usable', 'solid')
            and {{ of }}previous_sufficiency in ('usable', 'solid')
            then {{ nine_places('cast(' ~ of ~ 'value - ' ~ of ~ 'previous_value as double)') }}
    end as change_value,
    {#- A difference gives away whichever of the two figures is withheld, and so do its ends. #}
    {%- for side in ['low', 'high'] %}
    case
        when not ({{ hidden }}) and not ({{ changed }}) then {{ of }}difference_{{ side }}
    end as change_{{ side }},
    {%- endfor %}
    case
        when not ({{ hidden }}) and not ({{ changed }}) then {{ of }}change_code
    end as change_code
{%- endmacro %}


{# The weakest dimension stands first in the words beside fidelity: `name value; name value`. #}
{% macro weakest_of(detail) %}nullif(trim(split_part({{ detail }}, ' ', 1)), ''){% endmacro %}
