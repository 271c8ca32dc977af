{#
    Why a row of a parent (a school's grades, a school's tiers) is withheld, or null.

    primary    SQL text: the reason that the row gives by itself, or null
    parent     columns that name the parent whose total is published too
    sizes      list of [column, least]: what a withheld company must add up to, at the least
    key        column that settles ties, so that two builds withhold the same rows

    A single withheld row could be worked out as the total minus the others. So the next smallest
    rows go as well, until at least two are withheld and what they add up to, which anybody can
    work out, is itself no small figure. Table-free: window functions over the caller's rows.

    Worked examples (one parent, sizes [[people, 10]]):
        12, 30, 41          -> none is small, none is withheld
        3, 30, 41           -> 3 small_cell, 30 complementary
        3, 8, 20, 40 (< 5)  -> 3 small_cell, 8 complementary: together 11 (New York State report
                               cards: the group under five and the next smallest; source read)
        10, 5 (<= 5)        -> both withheld, the total 15 stays (Wisconsin DPI; source read)
        2, 3, 40            -> 2 and 3 are small and add up to 5, so 40 goes too
        0, 40               -> 0 is fewer than ten: both
        7                   -> withheld; its parent is as small and withheld by its own rule
        null                -> an unknown size is not small by itself (the primary rule decides)
#}
{% macro withheld_reason(primary, parent, sizes, key) %}
    {%- set order -%}
        partition by {{ parent | join(', ') }}
        order by
            case when {{ primary }} is null then 1 else 0 end,
            {{ sizes[0][0] }} nulls last,
            {{ key }}
    {%- endset -%}
    case
        when {{ primary }} is not null
            then {{ primary }}
        when
            bool_or({{ primary }} is not null) over (partition by {{ parent | join(', ') }})
            and (
                row_number() over ({{ order }}) <= 2
                {%- for column, least in sizes %}
                or coalesce(
                    sum({{ column }}) over (
                        {{ order }}
                        rows between unbounded preceding and 1 preceding
                    ),
                    0
                ) < {{ least }}
                {%- endfor %}
            )
            then 'complementary'
    end
{% endmacro %}
