{# Mean squares of a complete table of subjects by raters, for `icc`; sums below 1e-26 of the
   values' own squares are rounding and count as zero. No row below two subjects or raters. #}
{% macro icc_mean_squares(relation, keys, subject, rater, score) -%}
    {%- set by = keys | join(', ') -%}
    with icc_raters as (
        select
            {{ by }},
            cast(count(distinct {{ rater }}) as double) as icc_k
        from {{ relation }}
        where {{ score }} is not null and {{ subject }} is not null
        group by {{ by }}
    ),

    icc_subjects as (
        select
            {{ by }},
            {{ subject }}
        from {{ relation }}
        inner join icc_raters using ({{ by }})
        where {{ score }} is not null and {{ rater }} is not null
        group by {{ by }}, {{ subject }}, icc_k
        having count(*) = icc_k and count(distinct {{ rater }}) = icc_k
    ),

    icc_scores as (
        select
            {{ by }},
            cast({{ score }} as double) as icc_y,
            avg(cast({{ score }} as double)) over (partition by {{ by }}) as icc_mean,
            avg(cast({{ score }} as double)) over (partition by {{ by }}, {{ subject }})
                as icc_of_subject,
            avg(cast({{ score }} as double)) over (partition by {{ by }}, {{ rater }})
                as icc_of_rater
        from {{ relation }}
        inner join icc_subjects using ({{ by }}, {{ subject }})
        where {{ score }} is not null
    ),

    icc_sums as (
        select
            {{ by }},
            icc_k,
            count(*) / icc_k as icc_n,
            sum(power(icc_of_subject - icc_mean, 2)) as icc_ssb,
            sum(power(icc_y - icc_of_subject, 2)) as icc_ssw,
            sum(power(icc_of_rater - icc_mean, 2)) as icc_ssj,
            sum(power(icc_y - icc_of_subject - icc_of_rater + icc_mean, 2)) as icc_sse,
            1e-26 * sum(icc_y * icc_y) as icc_noise
        from icc_scores
        inner join icc_raters using ({{ by }})
        group by {{ by }}, icc_k
    )

    select
        {{ by }},
        icc_n,
        icc_k,
        {{ above_noise('icc_ssb') }} / (icc_n - 1.0) as icc_bms,
        {{ above_noise('icc_ssw') }} / (icc_n * (icc_k - 1.0)) as icc_wms,
        {{ above_noise('icc_ssj') }} / (icc_k - 1.0) as icc_jms,
        {{ above_noise('icc_sse') }} / ((icc_n - 1.0) * (icc_k - 1.0)) as icc_ems
    from icc_sums
    where icc_n >= 2.0 and icc_k >= 2.0
{%- endmacro %}


{% macro above_noise(squares) -%}
    case when {{ squares }} > icc_noise then {{ squares }} else 0.0 end
{%- endmacro %}
