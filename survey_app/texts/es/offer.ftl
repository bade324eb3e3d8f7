## Needs the review of a native speaker.

offer-title = Comprar juntos
offer-lead = Los vecinos piden a los contratistas un precio para muchos calentadores. Esto es lo que significa para su casa. Nada de esto obliga a nadie.
offer-none = Todavía no hay una oferta para su casa. Diga en su respuesta si participaría. Luego mire aquí otra vez.
offer-price = Su precio completo sería de unos **{ $price }**, de { $contractor }. Es para la ronda "{ $round }", a partir del { $begins }.
offer-alone-price = Solo, el mismo trabajo completo cuesta unos { $alone }.
offer-about = Si su casa participara, su precio completo sería de unos { $about }.
offer-holds = Este precio vale si compran al menos { $homes } casas de su ronda.
offer-at-needed = Con solo { $needed } sería de unos { $price }.
offer-changed = Las ofertas han cambiado desde entonces. Este precio puede cambiar con el próximo plan.
offer-why-no-bid = Todavía no hay una oferta que sirva, así que ninguna ronda le conviene a su casa.
offer-why-no-time = Ninguna ronda termina antes del día que usted dio, así que su casa no está en ninguna.
offer-why-over-limit = Las rondas cuestan más de lo que usted dijo que pagaría, así que su casa no está en ninguna.
offer-why-cheaper-alone = A su casa le sale mejor comprar sola que con estas ofertas.
offer-why-no-room = Las rondas que le convienen a su casa están llenas, o participan muy pocas casas. Por ahora su casa no está en ninguna.
offer-why-other-kind = Estas ofertas no son para un calentador como el suyo. El comité tiene que pedir otras.
offer-why-said-no = Usted dijo que no, así que su casa no está en ninguna ronda. Puede cambiarlo abajo.
offer-why-not-yet = Su casa todavía no está en el plan. Diga sí o tal vez abajo, y el próximo plan la cuenta.
offer-why-bought = Su calentador nuevo ya está anotado. No necesita ninguna ronda.
offer-round = Su ronda se hace con { $needed } casas. { $yes } han dicho que sí, { $maybe } tal vez.
offer-round-all = Una ronda se hace con { $needed } casas. En total, { $yes } han dicho que sí, { $maybe } tal vez.
offer-round-ahead = Alcanza: se hace.
offer-round-lacking = { $lacking ->
    [one] Falta una más.
   *[other] Faltan { $lacking } más.
 }
offer-in-head = Qué incluye el precio
offer-in = En el precio
offer-extra = { $usd } además
offer-assumed = unos { $usd } además (lo tuvimos que suponer)
offer-unknown = sin precio: pregunte
offer-unsure = solo si su casa lo necesita
offer-contract = El contrato es entre usted y el contratista. La asociación no hace el trabajo ni lo garantiza. Pida por escrito el número de licencia, el seguro y el precio antes de firmar.
offer-decide-head = ¿Conservar su calentador, o tomar el precio?
offer-reply-head = ¿Qué dice usted?
offer-reply-help = Un sí ayuda a los demás: más casas, menor precio. Puede cambiarlo hasta que firme con el contratista.
offer-yes = Sí, a este precio
offer-maybe = Tal vez
offer-no = No, gracias
offer-limit = Lo más que pagaría por el trabajo completo, en dólares. Déjelo en blanco si es el precio de arriba.
offer-latest = Lo necesito antes de este día. Déjelo en blanco si no importa.
offer-send = Enviar
offer-sent = Anotado. Gracias.
offer-now = Hasta ahora dijo: { $says }.
offer-yes-to = Su sí fue a { $price }. Si el precio sube más de { $more }, su sí no cuenta hasta que lo diga otra vez.
offer-choose = Elija primero sí, tal vez o no.
offer-decide-help = Conservar el calentador también vale: los años que le quedan, menos el riesgo de que falle antes. Aquí se pesan las dos cosas.

offer-item-tank = El calentador: garantía de 9 a 12 años, ánodo de magnesio con su propia entrada
offer-item-labor = Trabajo de un contratista con licencia
offer-item-permit = Permiso e inspección
offer-item-haul-away = El calentador viejo se vacía y se lo llevan
offer-item-water-connectors = Líneas de agua nuevas de acero inoxidable o cobre
offer-item-ball-valve = Válvula de bola de paso completo como drenaje, y llave de agua fría que cierre
offer-item-relief-valve = Válvula de alivio nueva con su tubo
offer-item-gas-connector = Línea de gas con válvula de exceso de flujo, prueba de fugas
offer-item-vent-work = Tubo de humos revisado y renovado si hace falta
offer-item-electrical = Conexión eléctrica según el código
offer-item-condensate-drain = Desagüe para el agua que hace una bomba de calor
offer-item-drain-pan = Bandeja de drenaje
offer-item-pan-drain = Tubo de la bandeja a un desagüe
offer-item-expansion-tank = Tanque de expansión
offer-item-leak-alarm = Alarma de fugas o cierre automático
offer-item-hard-access = Trabajo extra en un ático o en el piso de arriba
offer-item-code-upgrades = Otro trabajo que pide el código de hoy
offer-item-sales-tax = Impuesto de venta
