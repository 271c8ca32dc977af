{# How often something holds in a group, beside how often among the others (34 CFR 300.647).

   cases, people               of the group: those of whom it holds, and all of them
   other_cases, other_people   of the comparison: all others of the same place
   wide_cases, wide_people     of the wider comparison: the others of the place around it (a State's
                               for a district, a school's for a grade); null where there is none
   least_cases, least_people   the smallest cell and the smallest group that a ratio is made of
   level                       two-sided level as a number, for example 0.95

   risk_ratio_basis            `plain` where the comparison is large enough, else `alternate` where
                               the wider one is, else null; null too where the group is too small
   risk_ratio                  risk of the group / risk of the comparison that the basis names; null
                               without a basis, and where nobody of the comparison is a case
   risk_ratio_low, _high       logarithm and normal quantile (Katz et al. 1978), see katz_limit();
                               null where the ratio is null or 0
   weighted_risk_ratio         the same beside the others weighted as `weight` says (Bollmer et al.
                               2007): (1 - weight) risk / sum over the others of weight risk.
                               `weight` is each group's part of the place around, adding up to 1
                               over the partition; equals the plain ratio where that is the part
                               here. The regulation does not define it.

   Exactly the smallest cell and group are large enough. Null counts are too small.
   Definitions: 34 CFR 300.647 (81 FR 92376, 2016), cell of 10 and group of 30 reasonable (read),
   alternate ratio partly from memory.
   Worked examples: 12 of 40 beside 20 of 160 -> 2.40, 1.28 to 4.49. 14 of 80 beside 6 of 25 is too
   small a comparison; beside the wider 4200 of 120000 -> 0.175 / 0.035 = 5.0.
#}
{% macro risk_ratio_basis(
    cases, people, other_cases, other_people, wide_cases, wide_people, least_cases, least_people
) -%}
    case
        when {{ is_large_enough(cases, people, least_cases, least_people) }} then
            case
                when {{ is_large_enough(other_cases, other_people, least_cases, least_people) }}
                    then 'plain'
                when {{ is_large_enough(wide_cases, wide_people, least_cases, least_people) }}
                    then 'alternate'
            end
    end
{%- endmacro %}


{% macro risk_ratio(
    cases, people, other_cases, other_people, wide_cases, wide_people, least_cases, least_people
) -%}
    case {{ risk_ratio_basis(
        cases, people, other_cases, other_people, wide_cases, wide_people, least_cases, least_people
    ) }}
        when 'plain'
            then {{ ratio_of_proportions(cases, people, other_cases, other_people) }}
        when 'alternate'
            then {{ ratio_of_proportions(cases, people, wide_cases, wide_people) }}
    end
{%- endmacro %}


{% macro risk_ratio_low(
    cases, people, other_cases, other_people, wide_cases, wide_people, least_cases, least_people,
    level
) -%}
    case {{ risk_ratio_basis(
        cases, people, other_cases, other_people, wide_cases, wide_people, least_cases, least_people
    ) }}
        when 'plain'
            then {{ katz_low(cases, people, other_cases, other_people, level) }}
        when 'alternate'
            then {{ katz_low(cases, people, wide_cases, wide_people, level) }}
    end
{%- endmacro %}


{% macro risk_ratio_high(
    cases, people, other_cases, other_people, wide_cases, wide_people, least_cases, least_people,
    level
) -%}
    case {{ risk_ratio_basis(
        cases, people, other_cases, other_people, wide_cases, wide_people, least_cases, least_people
    ) }}
        when 'plain'
            then {{ katz_high(cases, people, other_cases, other_people, level) }}
        when 'alternate'
            then {{ katz_high(cases, people, wide_cases, wide_people, level) }}
    end
{%- endmacro %}


{# Whether a group and its cases are large enough to be compared. #}
{% macro is_large_enough(cases, people, least_cases, least_people) -%}
    coalesce({{ cases }} >= {{ least_cases }} and {{ people }} >= {{ least_people }}, false)
{%- endmacro %}


{% macro weighted_risk_ratio(risk, weight, partition) -%}
    (1.0 - {{ weight }}) * {{ risk }} / nullif(
        sum({{ weight }} * {{ risk }}) over (partition by {{ partition | join(', ') }})
        - {{ weight }} * {{ risk }},
        0.0
    )
{%- endmacro %}
