{# One row for each combination of the grain; nulls count as equal, so they cannot hide a pair. #}
{% test unique_grain(model, grain) %}
select
    {{ grain | join(', ') }},
    count(*) as row_count
from {{ model }}
group by {{ grain | join(', ') }}
having count(*) > 1
{% endtest %}
