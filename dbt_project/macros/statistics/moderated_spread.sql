{# A standard deviation that borrows from others when there is little of its own, and its t test.

   own_variance    variance of the group's own values (n - 1 below); may be null below two values
   own_df          its degrees of freedom, n - 1
   prior_variance  variance pooled over other groups
   prior_df        degrees of freedom that the pooled one shall count for
   The variances are weighed by their degrees of freedom, and these add up: the moderated t of Smyth
   (2004, formula from memory) with a given instead of an estimated prior weight. Null without a
   prior; the prior alone where there is no own degree of freedom.
#}
{% macro moderated_variance(own_variance, own_df, prior_variance, prior_df) -%}
    (
        ({{ prior_df }} * {{ prior_variance }} + case
            when {{ own_df }} >= 1 then {{ own_df }} * {{ own_variance }} else 0.0
        end)
        / ({{ prior_df }} + case when {{ own_df }} >= 1 then {{ own_df }} else 0 end)
    )
{%- endmacro %}


{# Chance of a mean this low or lower were the truth at `line`: one-sided, from t.

   mean, error   the mean and its standard error; df: degrees of freedom of the error
   Without error 0, 0.5 or 1, as the mean is under, at or above the line; null in, null out.
#}
{% macro t_below_p(mean, error, line, df) -%}
    case
        when {{ error }} > 0.0 then
            {{ t_cdf('(' ~ mean ~ ' - ' ~ line ~ ') / ' ~ error, df) }}
        when {{ error }} = 0.0 then
            case when {{ mean }} < {{ line }} then 0.0 when {{ mean }} > {{ line }} then 1.0
                when {{ mean }} = {{ line }} then 0.5 end
    end
{%- endmacro %}
