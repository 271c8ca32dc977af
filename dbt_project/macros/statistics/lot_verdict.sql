{# A statistic turned so that larger is further in the direction asked for. #}
{% macro turned(effect, direction) -%}
    {%- if direction == 'decrease' -%} -({{ effect }})
    {%- elif direction == 'either' -%} abs({{ effect }})
    {%- else -%} {{ effect }}
    {%- endif -%}
{%- endmacro %}


{# The end of a query of a randomization test: counts the ways at least as far as the one done.

   scored  CTE with the keys, session_count, effect (turned), effect_as_is, is_carried_out
   Columns out: see `randomization_test`. Ties count as far, also when rounding parts them (1e-9).
   No way carried out: as_far_count and p_value are null.
#}
{% macro lot_verdict(scored, keys) -%}
    {%- set by = keys | join(', ') -%}
    lot_observed as (
        select
            {{ by }},
            max(effect) as observed_effect,
            max(effect_as_is) as observed
        from {{ scored }}
        where is_carried_out
        group by {{ by }}
    ),

    lot_counts as (
        select
            {{ keys_of(scored, keys) }},
            max({{ scored }}.session_count) as session_count,
            count(*) as assignment_count,
            max(lot_observed.observed) as observed,
            sum(
                case
                    when
                        {{ scored }}.effect >= lot_observed.observed_effect
                        - 1e-9 * greatest(1.0, abs(lot_observed.observed_effect))
                        then 1
                    else 0
                end
            ) as ways_as_far
        from {{ scored }}
        left join lot_observed on {{ same_keys(scored, 'lot_observed', keys) }}
        group by {{ keys_of(scored, keys) }}
    )

    select
        {{ by }},
        session_count,
        assignment_count,
        observed,
        case when observed is not null then ways_as_far end as as_far_count,
        case when observed is not null then cast(ways_as_far as double) / assignment_count end
            as p_value,
        1.0 / assignment_count as smallest_p
    from lot_counts
{%- endmacro %}
