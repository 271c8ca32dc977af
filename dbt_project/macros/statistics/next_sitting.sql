{# Who has a turn at one sitting: everyone there the full share, and the first of them one more.

   before    name of a query: box_number, simulation, pupil_number, presence (see `round_boxes`),
             priority (see `mixed_draw`), turn_count, last_sitting
   sitting   its number, 1, 2, ...; boxes whose last sitting came before are left out
   Reads the query `shares` of `round_boxes`. Columns out: those of `before`, turns added; first are
   those there with the fewest turns, the smallest of new priorities first.
#}
{% macro next_sitting(before, sitting) -%}
    {%- set priority = next_draw(before ~ '.priority', sitting) -%}
    {%- set is_there = '(' ~ before ~ '.presence & ' ~ 2 ** (sitting - 1) ~ ') > 0' -%}
    select
        {{ before }}.box_number,
        {{ before }}.simulation,
        {{ before }}.pupil_number,
        {{ before }}.presence,
        {{ priority }} as priority,
        {{ before }}.turn_count + case
            when {{ is_there }} then
                shares.full_count + case
                    when
                        row_number() over (
                            partition by {{ before }}.box_number, {{ before }}.simulation
                            order by
                                case
                                    when {{ is_there }} then
                                        {{ before }}.turn_count * {{ 2 ** 31 }}
                                        + {{ priority }}
                                    else 9223372036854775807
                                end
                        ) <= shares.rest_count
                        then 1
                    else 0
                end
            else 0
        end as turn_count,
        shares.last_sitting
    from {{ before }}
    inner join shares
        on
            {{ before }}.box_number = shares.box_number
            and shares.sitting = {{ sitting }}
    where {{ before }}.last_sitting >= {{ sitting }}
{%- endmacro %}
