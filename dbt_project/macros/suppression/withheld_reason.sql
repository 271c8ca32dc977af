{#
    Why a row of a parent (a school's grades, a school's tiers) is withheld, or null.

    primary    SQL text: the reason that the row gives by itself, or null
    parent     columns that name the parent whose total is published too
    sizes      list of [column, least]: what a withheld company must add up to, at the least
    key        column that settles ties, so that two builds withhold the same rows
    hidden     [column, least] or none: the count of people that the rows hide. That a withheld row
               has fewer than `least`, or has not, is no secret: the reason tells it. A third column
               is the other end of a share of which all are known: those not counted.

    A single withheld row could be worked out as the total minus the others. So the next smallest
    rows go as well, until at least two are withheld and what they add up to, which anybody can
    work out, is itself no small figure. Rows that are known to be small hide one another badly (9
    and 9 are 18, and nothing else is possible under ten); so with `hidden` rows go along until what
    the withheld add up to leaves each small one free to be anything from 0 to least - 1.
    Where even all rows together leave less, all go and each says `complementary`, which tells no
    size; unless together they are small, and then the parent is withheld for that itself.

    Table-free: window functions over the caller's rows.

    Worked examples (one parent, sizes [[people, 10]], hidden [people, 10]):
        12, 30, 41          -> none is small, none is withheld
        3, 30, 41           -> 3 small_cell, 30 complementary
        3, 8, 20, 40 (< 5)  -> 3 small_cell, 8 complementary: together 11 (New York State report
                               cards: the group under five and the next smallest; source read)
        10, 5 (<= 5)        -> both withheld, the total 15 stays (Wisconsin DPI; source read)
        2, 3, 40            -> 2 and 3 are small and add up to 5, so 40 goes too
        9, 9, 30            -> 9 and 9 would be open, so 30 goes too
        5, 5, 5, 30         -> all three small_cell: of 15, two can take what the third has not
        3, 12, 30           -> 3 and 12 leave the three at most five, so 30 goes too
        9, 9                -> both complementary
        0, 40               -> 0 is fewer than ten: both
        7                   -> withheld; its parent is as small and withheld by its own rule
        null                -> an unknown size is not small by itself (the primary rule decides)
#}
{% macro withheld_reason(primary, parent, sizes, key, hidden=none) %}
    {%- set of_parent = 'partition by ' ~ parent | join(', ') -%}
    {%- set order -%}
        {{ of_parent }}
        order by
            case when {{ primary }} is null then 1 else 0 end,
            {{ sizes[0][0] }} nulls last,
            {{ key }}
    {%- endset -%}
    {%- set before = order ~ ' rows between unbounded preceding and 1 preceding' -%}
    case
        {%- if hidden %}
        when
            bool_or({{ primary }} is not null) over ({{ of_parent }})
            and sum({{ hidden[0] }}) over ({{ of_parent }}) >= {{ hidden[1] }}
            and not {{ hides_small(hidden, of_parent) }}
            then 'complementary'
        {%- endif %}
        when {{ primary }} is not null
            then {{ primary }}
        when
            bool_or({{ primary }} is not null) over ({{ of_parent }})
            and (
                row_number() over ({{ order }}) <= 2
                {%- for column, least in sizes %}
                or coalesce(sum({{ column }}) over ({{ before }}), 0) < {{ least }}
                {%- endfor %}
                {%- if hidden %}
                or not {{ hides_small(hidden, before) }}
                {%- endif %}
            )
            then 'complementary'
    end
{% endmacro %}


{# Whether rows withheld together leave a small one of them free to be anything that is small: what
   the others can give up, and what they can take, is enough. With itself counted in, both are
   least - 1 for any small row. A row that is not small can give what it has over `least` and take
   any number, or only as much as its small other end allows.
#}
{% macro hides_small(hidden, rows) -%}
    {%- set people, least = hidden[0], hidden[1] -%}
    {%- set gives = 'case when ' ~ people ~ ' < ' ~ least ~ ' then ' ~ people ~ ' else '
        ~ people ~ ' - ' ~ least ~ ' end' -%}
    {%- set takes = 'case when ' ~ people ~ ' < ' ~ least ~ ' then ' ~ least ~ ' - 1 - ' ~ people
        ~ ' else ' ~ least ~ ' - 1 end' -%}
    {%- if hidden | length > 2 -%}
        {%- set other = hidden[2] -%}
        {%- set gives = 'case when ' ~ other ~ ' < ' ~ least ~ ' then least(' ~ people ~ ', '
            ~ least ~ ' - 1 - ' ~ other ~ ') else ' ~ gives ~ ' end' -%}
        {%- set takes = 'case when ' ~ other ~ ' < ' ~ least ~ ' then least(' ~ other ~ ', '
            ~ takes ~ ') else ' ~ takes ~ ' end' -%}
    {%- endif -%}
    coalesce(
        sum({{ gives }}) over ({{ rows }}) >= {{ least }} - 1
        and sum({{ takes }}) over ({{ rows }}) >= {{ least }} - 1,
        false
    )
{%- endmacro %}
