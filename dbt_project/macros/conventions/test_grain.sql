{# One test a model: its grain is unique and no part of it is null. `group by` sees nulls. #}
{% test grain(model, columns) %}
    select {{ columns | join(', ') }}
    from {{ model }}
    group by {{ columns | join(', ') }}
    having
        count(*) > 1
        {%- for column in columns %}
        or {{ column }} is null
        {%- endfor %}
{% endtest %}
