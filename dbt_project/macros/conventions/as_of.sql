{# The day that every figure is as of. #}
{% macro as_of_on() %}cast('{{ var("as_of_on") }}' as date){% endmacro %}


{# The one place where rows that could not be known on the as-of day are left out.

   event_on     day of the event: on or before the as-of day
   entered_at   instant it was written down (optional): on or before that day in the school's zone
   received_at  lineage column of every feed: not after the variable `received_by`, when given
#}
{% macro is_known(event_on, entered_at=none) %}
    (
        {{ event_on }} <= {{ as_of_on() }}
        {%- if entered_at %}
        and ({{ entered_at }} is null or {{ local_date(entered_at) }} <= {{ as_of_on() }})
        {%- endif %}
        {%- if var('received_by') %}
        and received_at <= cast('{{ var("received_by") }}' as timestamp)
        {%- endif %}
    )
{% endmacro %}
